package telegram

import (
	"encoding/json"
	"time"
)

// Decode takes a single update apart, as DecodeList does with each of a list.
func Decode(raw []byte, now time.Time) (Update, error) {
	var u update
	err := json.Unmarshal(raw, &u)
	return u.taken(err, now)
}
