package hearing

import "encoding/json"

// JSON gives the slots as an object, those that are said.
func (s Slots) JSON() string {
	out, err := json.Marshal(s.Said())
	if err != nil {
		return "{}" // strings and whole numbers always go
	}
	return string(out)
}

// Said gives the slots that are said, by name.
func (s Slots) Said() map[string]any {
	out := map[string]any{}
	for name, value := range map[string]string{"date": string(s.Date), "from": string(s.From),
		"to":   string(s.To),
		"time": s.Time, "money": s.Money, "person": s.Person, "text": s.Text} {
		if value != "" {
			out[name] = value
		}
	}
	if len(s.Counts) > 0 {
		out["counts"] = s.Counts
	}
	return out
}
