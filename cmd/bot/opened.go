package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/filewatch"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/texts"
)

// toldPath is the list of those who were told to use paper when the program
// stopped, beside FILE: it cannot stand in FILE then.
func toldPath(file string) string { return store.Beside(file, ".told") }

// doubted ends a service whose file cannot be written to any more: what was
// confirmed is saved where it can be, and the error says what to do.
func (s *service) doubted(db *store.DB, doubt *store.Doubt) error {
	if told, err := json.Marshal(s.desk.OnPaper()); err == nil {
		_ = os.WriteFile(toldPath(s.file), told, 0o600) // without it nobody is told when it works again
	}
	ctx := context.WithoutCancel(context.Background())
	name, err := db.Rescue(ctx, time.Now())
	if err != nil {
		return fmt.Errorf("%w. What was confirmed could not be saved from memory (%w). Keep all that lies "+
			"beside %s. Put the file back where it was, or move %[3]s, %[3]s-wal and %[3]s.mark into a folder "+
			"of their own and restore the last copy: bot restore COPY --db %[3]s", doubt, err, s.file)
	}
	return fmt.Errorf("%w. All that was confirmed is saved in %s. To go on with it, move what is left of %s, "+
		"%[3]s-wal and %[3]s.mark into a folder of their own, then: bot restore %[2]s --db %[3]s",
		doubt, name, s.file)
}

// welcome says, once after a start, what people must know about the file.
func (s *service) welcome(ctx context.Context) error {
	c, why := s.opened.Case, ""
	if s.opened.Mark != nil {
		why = s.opened.Mark.Doubt
	}
	if v := s.opened.Verdict; v != filewatch.Start {
		s.log.Warn("the file was found otherwise than it was left", "case", string(c), "why", why)
	}
	err := s.tellBack(ctx)
	switch {
	case s.opened.Verdict == filewatch.Note, s.opened.Verdict == filewatch.Start:
	case c == filewatch.Older, c == filewatch.Another, c == filewatch.WasRestore:
		err = errors.Join(err, s.tellLost(ctx))
	default:
		err = errors.Join(err, s.tellOwners(ctx, 0, c, why))
	}
	if err != nil && ctx.Err() == nil {
		s.log.Error("people could not be told what was found at the start", "why", err)
	}
	return nil
}

// tellBack tells those who were told to use paper that it works again.
func (s *service) tellBack(ctx context.Context) error {
	data, err := os.ReadFile(toldPath(s.file))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	var told map[chat.Chat]string
	if err = errors.Join(err, json.Unmarshal(data, &told)); err == nil {
		err = s.desk.TellBack(ctx, told)
	}
	if err != nil {
		return err
	}
	return os.Remove(toldPath(s.file))
}

// tellOwners tells the owners of a shop, or of all, of something about the file.
func (s *service) tellOwners(ctx context.Context, id shop.ID, c filewatch.Case, why string) error {
	owners, err := s.reader.Owners(ctx, id)
	if err != nil {
		return err
	}
	words := map[chat.Chat]chat.Reply{}
	for _, where := range owners {
		text := s.words.In("en", "", "").Say("opened."+string(c), "why", why)
		words[where] = chat.Reply{Body: []chat.Block{{Text: text}}}
	}
	return s.desk.Announce(ctx, "opened", words)
}

// unproved tells owners that records do not hold together.
func (s *service) unproved(ctx context.Context, rep store.MachineReport) error {
	return s.tellOwners(ctx, rep.Shop, "unproved", rep.Faults[0])
}

// tellLost tells each person up to when the file knows what they did.
func (s *service) tellLost(ctx context.Context) error {
	words := map[chat.Chat]chat.Reply{}
	err := s.reader.Shops(ctx, func(sh *shop.Shop) error {
		members, err := s.reader.Members(ctx, sh)
		newest := time.Time{}
		for _, m := range members {
			if m.Newest.After(newest) {
				newest = m.Newest
			}
		}
		for _, m := range members {
			if p, ok := sh.Person(m.Person); ok && p.Acts() != shop.Bookkeeper {
				v := s.words.In(m.Lang, sh.Country, "")
				words[m.Chat] = chat.Reply{Body: []chat.Block{{Text: lostWords(v, sh, p, m.Newest, newest)}},
					Buttons: lostButtons(v)}
			}
		}
		return err
	})
	return errors.Join(err, s.desk.Announce(ctx, "opened", words))
}

// lostButtons lead to what is entered with its own time, or to what is next.
func lostButtons(v *texts.Voice) [][]chat.Button {
	return [][]chat.Button{{{Label: v.Say("button.lost-again"), Data: chat.Begins(engine.DoEarlier)}},
		{{Label: v.Say("button.lost-nothing"), Data: chat.Begins(engine.DoStatus)}}}
}

func lostWords(v *texts.Voice, sh *shop.Shop, p shop.Person, own, all time.Time) string {
	name, at := "opened.lost-person", own
	switch {
	case p.Acts().Manages():
		name, at = "opened.lost", all
	case own.IsZero():
		return v.Say("opened.lost-all")
	}
	at = at.In(sh.Location)
	return v.Say(name, "when", v.Day(at)+" "+v.Clock(at))
}
