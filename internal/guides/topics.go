package guides

import "shopfloat/internal/guides/search"

// Topics lists the guides as the question search learns them.
func (l Library) Topics() []search.Topic {
	var out []search.Topic
	for _, id := range l.IDs() {
		out = append(out, search.Topic{ID: id, Asked: l.guides[id].Asked})
	}
	return out
}
