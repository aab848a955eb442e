package queues

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// chatRow is what is remembered of a chat. The state is kept as it is stored,
// so that nobody can change what is at hand by changing a map in it.
type chatRow struct {
	state    []byte
	read     *chat.State   // what it says; a step does not change the state it is given
	under    chat.Activity // the dialog under way, as it is stored; zero for none
	lang     string
	gone     bool
	answered int64
	there    bool // the row is in the file
}

func (t Queues) chat(where chat.Chat) (*chatRow, error) {
	if c := t.at.chats[where]; c != nil {
		return c, nil
	}
	c := &chatRow{}
	var since int64
	err := t.tx.One(`SELECT coalesce(state, ''), machine, flow, blind, since, person, lang, gone, answered
		FROM chat WHERE chat = ?`, []any{where}, &c.state, &c.under.Machine, &c.under.Flow, &c.under.Blind,
		&since, &c.under.Person, &c.lang, &c.gone, &c.answered)
	if c.there = err == nil; err != nil && !errors.Is(err, file.ErrNone) {
		return nil, fmt.Errorf("chat: %w", err)
	}
	if c.under.Flow != "" {
		c.under.Chat, c.under.Since = where, file.Instant(since)
	}
	file.Keep(&t.at.chats, file.KeepSmall, where, c)
	return c, nil
}

// State gives a chat's dialog, the zero one for a new chat. A state that
// cannot be read any more has format -1, which the dialogs drop with a word to
// the person.
func (t Queues) State(where chat.Chat) (chat.State, error) {
	c, err := t.chat(where)
	if err != nil || len(c.state) == 0 {
		return chat.State{}, err
	}
	if c.read != nil {
		return *c.read, nil
	}
	var s chat.State
	if err := json.Unmarshal(c.state, &s); err != nil {
		return chat.State{V: -1}, nil
	}
	c.read = &s
	return s, nil
}

// Lang is the language a person uses in a chat, "en" when it is not known.
func (t Queues) Lang(where chat.Chat) (string, error) {
	c, err := t.chat(where)
	if err != nil || c.lang == "" {
		return "en", err
	}
	return c.lang, nil
}

// SaveState keeps a chat's dialog.
func (t Queues) SaveState(where chat.Chat, person shop.PersonID, s chat.State) error {
	old, err := t.chat(where)
	if err != nil {
		return err
	}
	body, err := json.Marshal(&s)
	if err != nil {
		return fmt.Errorf("state: %w", err)
	}
	if bytes.Equal(body, old.state) {
		return nil
	}
	a, _ := s.Under(where, person)
	text, since := file.Text(body), file.Milli(a.Since)
	switch {
	case !old.there:
		err = t.tx.Exec(`INSERT INTO chat (chat, state, machine, flow, blind, since, person)
			VALUES (?, ?, ?, ?, ?, ?, ?)`, where, text, a.Machine, a.Flow, a.Blind, since, a.Person)
	case a.Machine == old.under.Machine && a.Flow == old.under.Flow: // the index of dialogs stays as it is
		err = t.tx.Exec("UPDATE chat SET state = ?, blind = ?, since = ?, person = ? WHERE chat = ?",
			text, a.Blind, since, a.Person, where)
	default:
		err = t.tx.Exec(`UPDATE chat SET state = ?, machine = ?, flow = ?, blind = ?, since = ?, person = ?
			WHERE chat = ?`, text, a.Machine, a.Flow, a.Blind, since, a.Person, where)
	}
	if err != nil {
		return fmt.Errorf("state: %w", err)
	}
	row := *old
	a.Since, a.Began = file.Instant(file.Milli(a.Since)), a.Began.UTC() // as they are read back
	row.state, row.read, row.under, row.there = body, &s, a, true
	file.Keep(&t.at.chats, file.KeepSmall, where, &row)
	if a != old.under {
		t.dropActivity(old.under)
		t.addActivity(a)
	}
	return nil
}

// lostCards is how many numbers of cards are left out after a restore: more than a chat is
// sent in the time that a copy may be old.
const lostCards = 10_000

// LeaveOutCards has no card of now bear the number of one that was sent since the copy was
// made which the file was put back from: a tap on that one would be taken for one on this.
func (t Queues) LeaveOutCards() error {
	err := t.tx.Exec(`UPDATE chat SET state = json_set(state, '$.lost_from', state ->> '$.rev',
		'$.lost_to', (state ->> '$.rev') + ?1, '$.rev', (state ->> '$.rev') + ?1,
		'$.cards', coalesce(state ->> '$.cards', 0) + ?1) WHERE json_valid(state)`, lostCards)
	if err == nil {
		err = t.tx.Exec(`INSERT INTO chat (chat, state)
			SELECT DISTINCT chat, json_object('v', ?1, 'rev', ?2, 'lost_to', ?2, 'cards', ?2) FROM account
			WHERE chat NOT IN (SELECT chat FROM chat WHERE state IS NOT NULL)
			ON CONFLICT (chat) DO UPDATE SET state = excluded.state`, chat.StateFormat, lostCards)
	}
	if err != nil {
		return fmt.Errorf("cards: %w", err)
	}
	t.tx.Forget()
	return nil
}

// Underway lists the dialogs that are under way at a machine, without the one in a chat.
func (t Queues) Underway(machine shop.MachineID, without chat.Chat) ([]chat.Activity, error) {
	all, ok := t.at.underway[machine]
	if !ok {
		err := t.tx.Each(`SELECT chat, person, machine, flow, blind, since,
			coalesce(state ->> '$.draft.period', 0), coalesce(state ->> '$.since', '0001-01-01T00:00:00Z') FROM chat
			WHERE machine = ? AND flow <> ''`, []any{machine}, func(row file.Scanner) error {
			a, err := scanActivity(row)
			all = append(all, a)
			return err
		})
		if err != nil {
			return nil, fmt.Errorf("dialogs at machine %d: %w", machine, err)
		}
		file.Keep(&t.at.underway, file.KeepSmall, machine, all)
	}
	var others []chat.Activity
	for _, a := range all {
		if a.Chat != without {
			others = append(others, a)
		}
	}
	return others, nil
}

// Heard is when something last came in from a chat, as far as is still known.
func (t Queues) Heard(where chat.Chat) (time.Time, error) {
	var at int64
	err := t.tx.One("SELECT at FROM inbox WHERE chat = ? ORDER BY id DESC LIMIT 1", []any{where}, &at)
	if errors.Is(err, file.ErrNone) {
		return time.Time{}, nil
	}
	if err != nil {
		return time.Time{}, fmt.Errorf("inbox: %w", err)
	}
	return file.Instant(at), nil
}

func scanActivity(row file.Scanner) (a chat.Activity, err error) {
	var since int64
	var began string
	err = row.Scan(&a.Chat, &a.Person, &a.Machine, &a.Flow, &a.Blind, &since, &a.Period, &began)
	if err != nil {
		return a, err
	}
	a.Since = file.Instant(since)
	a.Began, err = time.Parse(time.RFC3339, began)
	a.Began = a.Began.UTC()
	return a, err
}

func (t Queues) dropActivity(a chat.Activity) {
	if all, ok := t.at.underway[a.Machine]; ok {
		of := func(b chat.Activity) bool { return b.Chat == a.Chat }
		t.at.underway[a.Machine] = slices.DeleteFunc(all, of)
	}
}

// addActivity keeps the order of the table: by chat.
func (t Queues) addActivity(a chat.Activity) {
	all, ok := t.at.underway[a.Machine]
	if !ok || a.Flow == "" {
		return
	}
	i, _ := slices.BinarySearchFunc(all, a.Chat, func(x chat.Activity, c chat.Chat) int {
		return strings.Compare(string(x.Chat), string(c))
	})
	t.at.underway[a.Machine] = slices.Insert(all, i, a)
}

// MayAnswer says whether a stranger has had no answer for a day, and notes
// that there is one now.
func (t Queues) MayAnswer(where chat.Chat) (bool, error) {
	c, err := t.chat(where)
	if err != nil {
		return false, err
	}
	if ago := t.tx.Now().Sub(file.Instant(c.answered)); c.answered != 0 && ago >= 0 && ago < 24*time.Hour {
		return false, nil
	}
	now := file.Milli(t.tx.Now())
	err = t.tx.Exec(`INSERT INTO chat (chat, answered) VALUES (?, ?)
		ON CONFLICT (chat) DO UPDATE SET answered = excluded.answered`, where, now)
	file.Keep(&t.at.chats, file.KeepSmall, where, &chatRow{answered: now, there: true})
	return true, err
}

// SetGone notes whether a chat takes no messages.
func (t Queues) SetGone(where chat.Chat, gone bool) error {
	delete(t.at.chats, where)
	return t.tx.Exec(`INSERT INTO chat (chat, gone) VALUES (?, ?)
		ON CONFLICT (chat) DO UPDATE SET gone = excluded.gone`, where, gone)
}

// Gone says whether a chat takes no messages.
func (t Queues) Gone(where chat.Chat) (bool, error) {
	c, err := t.chat(where)
	if err != nil {
		return false, err
	}
	return c.gone, nil
}
