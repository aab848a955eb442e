package main

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/store"
	"shopfloat/internal/texts"
)

// Whoever had typed figures in an older program is told each of them, but for
// those in a record, and [Take them over] gives the same figures to the new draft.
func TestFixtureFiguresAreTakenOver(t *testing.T) {
	t.Parallel()
	var told, taken atomic.Int64
	inEach(t, some(t, fixtureNames(t)), func(t *testing.T, name string) {
		for where, old := range chatsIn(t, unpacked(t, name)) {
			if old.Flow == "" {
				continue
			}
			r := revive(t, name)
			card := r.takes(chat.Input{Chat: where, Kind: chat.Text, Text: "80"})
			typed := typedIn(old)
			for _, want := range typed {
				told.Add(1)
				for _, figure := range want.told {
					if !strings.Contains(card, figure) {
						t.Errorf("%s, %s at %s %s: %q is not told:\n%s", name, where, old.Flow, old.Step, figure, card)
					}
				}
			}
			if has := strings.Contains(card, "You had typed"); has != (len(typed) > 0) {
				t.Errorf("%s, %s at %s %s: want %v, told\n%s", name, where, old.Flow, old.Step, typed, card)
			}
			if r.tap(where, "Take them over") == "" {
				r.close()
				continue
			}
			now := r.state(where)
			for _, want := range typed {
				taken.Add(1)
				again, waits := now.Draft.Retyped[want.question]
				var counts []int64
				if a := now.Draft.Answers[want.question]; a != nil {
					counts = a.Counts
				}
				// what was paid out in all is kept by the dialog in its own form
				same := slices.Equal(counts, want.counts) &&
					strings.Contains(string(now.Draft.Form)+now.Draft.Choices["paid-total"], old.Draft.Choices["paid-total"])
				if !waits && !same || waits && again != want.again {
					t.Errorf("%s, %s at %s %s: %s was %v, taken over as %v and %q", name, where, old.Flow, old.Step,
						want.question, want.counts, counts, again)
				}
			}
			r.close()
		}
	})
	if least := checks.Size(t, 15, 100, 100); told.Load() < int64(least) || taken.Load() < int64(least) {
		t.Errorf("only %d answers are told and %d taken over", told.Load(), taken.Load())
	}
}

// typed is what was answered of one question.
type typed struct {
	question string
	counts   []int64
	told     []string
	again    string // as it waits for its screen
}

// typedIn lists what was typed in a dialog and is in no record. All files but
// those without drafts have boxes of 50s, 20s and 10s.
func typedIn(s chat.State) (list []typed) {
	for question, counts := range s.Draft.Counts {
		if slices.Contains(recordedBy(s.Flow, s.Step), question) {
			continue
		}
		if total := s.Draft.Choices["paid-total"]; question == "paid" && total != "" {
			said := "€" + total[:1] + "," + total[1:]
			list = append(list, typed{question, counts, []string{said}, "total " + total})
			continue
		}
		kinds := []string{"50", "20", "10"}
		if at := s.Draft.Choices["box"]; len(counts) == 1 {
			kinds = kinds[at[0]-'0':][:1]
		}
		one := typed{question: question, counts: counts}
		var again []string
		for i, n := range counts {
			if n < 0 {
				continue
			}
			one.told = append(one.told, fmt.Sprintf("%ss %d", kinds[i], n))
			if n > 0 {
				again = append(again, fmt.Sprintf("%sx%d", kinds[i], n))
			}
		}
		if len(one.told) > 1 && len(again) == 0 {
			one.told, again = []string{": none"}, []string{"0"}
		}
		if one.again = strings.Join(again, ", "); len(one.told) > 0 {
			list = append(list, one)
		}
	}
	return list
}

// recordedBy lists the questions whose answers are recorded at a screen.
func recordedBy(flow, step string) []string {
	count := []string{"left", "tray", "found"}
	switch flow {
	case "close", "finish", "spot":
		if step == "reason" {
			return append(count, "paid", "back", "last-seen")
		}
		if !slices.Contains([]string{"left", "tray", "findings", "found", "count-review", "change"}, step) {
			return count
		}
	case "visit":
		if !slices.Contains([]string{"visit-tray", "visit-paid", "begin", "visit-left"}, step) {
			return []string{"visit-left", "visit-tray", "visit-paid"}
		}
	}
	return nil
}

// revived is a bot started on a copy of a file of an earlier program.
type revived struct {
	t       *testing.T
	file    string
	desk    *desk.Desk
	db      *store.DB
	now     time.Time
	inputs  int
	words   strings.Builder
	buttons map[chat.Chat][]chat.Button // of the newest message with any
	sent    int64
}

func revive(t *testing.T, name string) *revived {
	t.Helper()
	r := &revived{t: t, file: unpacked(t, name), buttons: map[chat.Chat][]chat.Button{}}
	r.now = latestIn(t, r.file).Add(time.Minute)
	db, err := store.Open(t.Context(), r.file, r.now)
	if err != nil {
		t.Fatal(err)
	}
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	r.db = db
	r.desk = desk.New(desk.Options{
		Store: db, Step: dialogs.New(catalogue).Step, Now: func() time.Time { return r.now }, Random: rand.Reader,
		Log: slog.New(slog.DiscardHandler),
	})
	return r
}

func (r *revived) close() {
	if err := r.db.Close(); err != nil {
		r.t.Error(err)
	}
}

func (r *revived) Owns(chat.Chat) bool { return true }

// Send keeps the words and buttons of what is sent.
func (r *revived) Send(_ context.Context, out desk.Out) (int64, error) {
	for _, b := range out.Reply.Body {
		fmt.Fprintf(&r.words, "%s> %s\n", out.Chat, b.Text)
	}
	if list := slices.Concat(out.Reply.Buttons...); len(list) > 0 {
		r.buttons[out.Chat] = list
	}
	r.sent++
	return r.sent, nil
}

// takes handles an input and gives all that was sent because of it.
func (r *revived) takes(in chat.Input) string {
	r.t.Helper()
	r.inputs++
	in.At = r.now
	r.words.Reset()
	raw := desk.Raw{Source: "test", Key: fmt.Sprint(r.inputs), Input: in}
	notices, err := r.desk.Take(r.t.Context(), []desk.Raw{raw})
	if err != nil {
		r.t.Fatal(err)
	}
	if err := r.desk.Flush(r.t.Context(), r); err != nil {
		r.t.Fatal(err)
	}
	return fmt.Sprint(r.words.String(), notices)
}

func (r *revived) says(where chat.Chat, text string) string {
	r.t.Helper()
	return r.takes(chat.Input{Chat: where, Kind: chat.Text, Text: text})
}

// tap taps the button with a label; empty where there is none.
func (r *revived) tap(where chat.Chat, label string) string {
	r.t.Helper()
	for _, b := range r.buttons[where] {
		if strings.HasPrefix(b.Label, label) {
			return r.takes(chat.Input{Chat: where, Kind: chat.Press, Tap: b.Data})
		}
	}
	return ""
}

func (r *revived) state(where chat.Chat) chat.State {
	r.t.Helper()
	return chatsIn(r.t, r.file)[where]
}

// chatsIn reads what is remembered of every chat in a file, by chat.
func chatsIn(t *testing.T, file string) map[chat.Chat]chat.State {
	t.Helper()
	rows, err := other(t, file).Query("SELECT chat, state FROM chat WHERE state IS NOT NULL")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = rows.Close() }()
	states := map[chat.Chat]chat.State{}
	for rows.Next() {
		var where chat.Chat
		var body string
		var s chat.State
		if err := rows.Scan(&where, &body); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(body), &s); err != nil {
			t.Fatal(err)
		}
		states[where] = s
	}
	return states
}
