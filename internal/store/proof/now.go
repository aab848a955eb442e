package proof

import (
	"encoding/json"
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/store/file"
)

// now looks at what is of now: dialogs, what waits to be taken in or sent, photos
// to be fetched. What repeats something must agree with it; the rest must be legible.
func (v *verifier) now() (faults []string, err error) {
	for _, look := range []func() ([]string, error){v.chats, v.waiting, v.unfetched} {
		more, err := look()
		if err != nil {
			return nil, err
		}
		faults = append(faults, more...)
	}
	return faults, nil
}

// chats compares what is found of dialogs without reading them with what they say.
func (v *verifier) chats() (faults []string, err error) {
	err = v.each("SELECT chat, coalesce(state, ''), machine, flow, blind, since, person FROM chat ORDER BY chat",
		nil, func(row file.Scanner) error {
			var where chat.Chat
			var body []byte
			var since int64
			var a chat.Activity
			err := row.Scan(&where, &body, &a.Machine, &a.Flow, &a.Blind, &since, &a.Person)
			if err != nil {
				return err
			}
			var s chat.State
			if len(body) > 0 && json.Unmarshal(body, &s) != nil {
				faults = append(faults, "what was being typed in a chat cannot be read")
				return nil
			}
			if s.Flow != "" && s.V != chat.StateFormat {
				return nil // it is told to its person and ended
			}
			said, _ := s.Under(where, a.Person)
			if said.Machine != a.Machine || said.Flow != a.Flow || said.Blind != a.Blind ||
				file.Milli(said.Since) != since {
				faults = append(faults, "what is said of a dialog under way differs from the dialog")
			}
			return nil
		})
	return faults, err
}

// waiting looks whether what is to be taken in and sent can be read.
func (v *verifier) waiting() (faults []string, err error) {
	err = v.each(`SELECT 'what came in', id FROM inbox WHERE body IS NOT NULL AND NOT json_valid(body)
		UNION ALL SELECT 'a message to send', id FROM outbox WHERE body IS NOT NULL AND NOT json_valid(body)`,
		nil, func(row file.Scanner) error {
			var what string
			var id int64
			err := row.Scan(&what, &id)
			faults = append(faults, fmt.Sprintf("%s (%d) cannot be read", what, id))
			return err
		})
	return faults, err
}

// unfetched compares the list of photos still to be fetched with the photos.
func (v *verifier) unfetched() (faults []string, err error) {
	err = v.each(`SELECT 'is not on the list of photos to fetch', machine, seq, n FROM (
			SELECT a.machine, a.seq, a.n FROM attachment a LEFT JOIN picture p USING (machine, seq, n)
			WHERE a.photo IS NOT NULL AND p.n IS NULL EXCEPT SELECT machine, seq, n FROM unfetched)
		UNION ALL SELECT 'is on the list of photos to fetch and need not be', machine, seq, n FROM (
			SELECT machine, seq, n FROM unfetched EXCEPT
			SELECT a.machine, a.seq, a.n FROM attachment a LEFT JOIN picture p USING (machine, seq, n)
			WHERE a.photo IS NOT NULL AND p.n IS NULL)`, nil,
		func(row file.Scanner) error {
			var what string
			var machine, seq, n int64
			err := row.Scan(&what, &machine, &seq, &n)
			faults = append(faults, fmt.Sprintf("photo %d of entry %d of machine %d %s", n, seq, machine, what))
			return err
		})
	return faults, err
}
