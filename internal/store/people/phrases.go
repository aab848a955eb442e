package people

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// ErrFull means that a shop has as many phrases of its own as it may have.
var ErrFull = errors.New("the shop has as many phrases as it may have")

// Miss counts what people of a shop typed that was not understood at once. Of a shop that
// has many such words those go first that were typed least.
func (t People) Miss(id shop.ID, text string) error {
	now := t.tx.Now()
	err := t.tx.Exec("DELETE FROM missed WHERE shop = ? AND last < ?", id, file.Milli(now.Add(-chat.MissedFor)))
	if err == nil {
		err = t.tx.Exec(`INSERT INTO missed (shop, text, times, last) VALUES (?, ?, 1, ?) ON CONFLICT (shop, text)
			DO UPDATE SET times = times + 1, last = excluded.last`, id, text, file.Milli(now))
	}
	if err == nil {
		err = t.tx.Exec(`DELETE FROM missed WHERE shop = ?1 AND text IN (SELECT text FROM missed
			WHERE shop = ?1 AND text <> ?2 ORDER BY times DESC, last DESC, text LIMIT -1 OFFSET ?3)`,
			id, text, chat.MissedMax-1)
	}
	if err != nil {
		return fmt.Errorf("not understood in shop %d: %w", id, err)
	}
	return nil
}

// ForgetMissed forgets, in all shops, what nobody has typed for long.
func (t People) ForgetMissed() error {
	return t.tx.Exec("DELETE FROM missed WHERE last < ?", file.Milli(t.tx.Now().Add(-chat.MissedFor)))
}

// Phrases lists what was not understood in a shop of late, and what words mean there.
func (t People) Phrases(id shop.ID) (p chat.Phrases, err error) {
	if p.Missed, err = t.Missed(id); err != nil {
		return p, err
	}
	err = t.tx.Each("SELECT text, means FROM phrase WHERE shop = ? ORDER BY text", []any{id},
		func(row file.Scanner) error {
			var w chat.Phrase
			err := row.Scan(&w.Text, &w.Means)
			p.Taught = append(p.Taught, w)
			return err
		})
	return p, err
}

// Missed lists what was not understood in a shop of late, the most frequent first.
func (t People) Missed(id shop.ID) (list []chat.Missed, err error) {
	err = t.tx.Each(`SELECT text, times, last FROM missed WHERE shop = ? AND last >= ?
		ORDER BY times DESC, last DESC, text`, []any{id, file.Milli(t.tx.Now().Add(-chat.MissedFor))},
		func(row file.Scanner) error {
			var m chat.Missed
			var last int64
			err := row.Scan(&m.Text, &m.Times, &last)
			m.Last = file.Instant(last)
			list = append(list, m)
			return err
		})
	return list, err
}

// Taught gives what words mean in a shop; empty: nobody said.
func (t People) Taught(id shop.ID, text string) (means string, err error) {
	err = t.tx.One("SELECT means FROM phrase WHERE shop = ? AND text = ?", []any{id, text}, &means)
	if errors.Is(err, file.ErrNone) {
		return "", nil
	}
	return means, err
}

// Teach keeps what words mean in a shop, or forgets it where they mean nothing. It fails
// with ErrFull.
func (t People) Teach(id shop.ID, p chat.Phrase) error {
	if p.Means == "" {
		return t.tx.Exec("DELETE FROM phrase WHERE shop = ? AND text = ?", id, p.Text)
	}
	var others int
	err := t.tx.One("SELECT count(*) FROM phrase WHERE shop = ? AND text <> ?", []any{id, p.Text}, &others)
	if err == nil && others >= chat.PhrasesMax {
		err = ErrFull
	}
	if err == nil {
		err = t.tx.Exec(`INSERT INTO phrase (shop, text, means) VALUES (?, ?, ?) ON CONFLICT (shop, text)
			DO UPDATE SET means = excluded.means`, id, p.Text, p.Means)
	}
	if err == nil {
		err = t.tx.Exec("DELETE FROM missed WHERE shop = ? AND text = ?", id, p.Text)
	}
	if err != nil {
		return fmt.Errorf("phrases of shop %d: %w", id, err)
	}
	return nil
}

// forgetNamed forgets what people typed that somebody's name is in. What is kept has no
// names of the people of then; they may have come since, with one of its words for a name.
func (t People) forgetNamed(id shop.ID, person shop.PersonID) error {
	var name string
	err := t.tx.One("SELECT coalesce(name, '') FROM person WHERE shop = ? AND id = ?", []any{id, person}, &name)
	if err != nil || name == "" {
		if errors.Is(err, file.ErrNone) {
			return nil
		}
		return err
	}
	p, err := t.Phrases(id)
	named := func(text string) bool {
		return slices.ContainsFunc(strings.Fields(text), func(w string) bool {
			return slices.ContainsFunc(strings.Fields(name), func(n string) bool {
				return names.Same(w, n) || w == names.Unaccented(n)
			})
		})
	}
	for _, m := range p.Missed {
		if err == nil && named(m.Text) {
			err = t.tx.Exec("DELETE FROM missed WHERE shop = ? AND text = ?", id, m.Text)
		}
	}
	for _, w := range p.Taught {
		if err == nil && named(w.Text) {
			err = t.Teach(id, chat.Phrase{Text: w.Text})
		}
	}
	return err
}
