package guides

import "shopfloat/internal/guides/search"

// Topics lists the guides as the question search learns them. One that nobody asks
// for in words of its own is reached by other ways, and not learnt.
func (l Library) Topics() []search.Topic {
	var out []search.Topic
	for _, id := range l.IDs() {
		if g, _ := l.Guide(id); len(g.Asked) > 0 {
			out = append(out, search.Topic{ID: id, Asked: g.Asked})
		}
	}
	return out
}
