package store_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

// sixtyDays makes the file of a shop that traded for sixty days.
func sixtyDays(t *testing.T) string {
	t.Helper()
	db, path := open(t)
	l := newLedger(t, db)
	for range 60 {
		no := l.books().Seq + 1
		l.post(books.Record{Kind: books.Opening, Figures: boxes(books.Loaded, 40, 150, 200),
			Ticks: []string{"safe"}},
			books.Record{Kind: books.Checks, Period: no, Ticks: []string{"safe"}},
			books.Record{Kind: books.TopUp, Period: no, Figures: boxes(books.Added, 0, 50, 0)},
			books.Record{Kind: books.Count, Period: no, Figures: boxes(books.Remaining, 30, 110, 80),
				Words: "alone"},
			books.Record{Kind: books.Settlement, Period: no, Figures: printed(books.PaidOut, 10, 90, 120)},
			books.Record{Kind: books.Close, Period: no, Where: books.Cash})
		value := decimal.NewFromInt(3500) // 10 x 50 + 90 x 20 + 120 x 10
		l.post(books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: value}},
			Parts: []books.Part{{As: books.Pays, Of: no + 4, Value: value}}})
		l.now = l.now.Add(24 * time.Hour)
	}
	if done, err := db.Truncate(); err != nil || !done {
		t.Fatalf("log: %v %v", done, err)
	}
	ok(t, db.Close())
	return path
}

// One bit of a file turned over, anywhere: verify says that something is wrong, or
// everything that is chained or rebuilt reads as before and the file can be worked
// with. A disk that forgets a bit is not to make a figure another one.
func TestBitFlips(t *testing.T) {
	source := sixtyDays(t)
	want, err := told(t, source)
	if err != nil || len(faults(t, source)) > 0 {
		t.Fatalf("untouched: %v %q", err, faults(t, source))
	}
	data, err := os.ReadFile(source)
	ok(t, err)
	random, dir := rand.New(rand.NewPCG(20, 26)), t.TempDir()
	seen, silent := 0, 0
	for n := range checks.Size(t, 10, 120, 20_000) {
		at, bit := random.IntN(len(data)), random.IntN(8)
		path := filepath.Join(dir, fmt.Sprint(n), "shop.db")
		ok(t, os.Mkdir(filepath.Dir(path), 0o700))
		data[at] ^= 1 << bit
		ok(t, os.WriteFile(path, data, 0o600))
		data[at] ^= 1 << bit
		if said := faults(t, path); len(said) > 0 {
			seen++
		} else {
			silent++
			have, err := told(t, path)
			if err != nil || have != want {
				t.Errorf("byte %d, bit %d: nothing is said, and it reads otherwise (%v)\n%s", at, bit, err,
					firstDifference(want, have))
			}
			db, err := store.Open(context.Background(), path, morning)
			if err != nil {
				t.Errorf("byte %d, bit %d: nothing is said, and the bot does not start: %v", at, bit, err)
			} else {
				ok(t, db.Close())
			}
		}
		ok(t, os.RemoveAll(filepath.Dir(path)))
	}
	t.Logf("of %d bits in a file of %d bytes %d were seen, %d changed nothing", seen+silent, len(data), seen,
		silent)
	if seen == 0 {
		t.Error("nothing was seen")
	}
}

// told writes out all that stands in the columns that are chained or rebuilt.
func told(t *testing.T, path string) (string, error) {
	t.Helper()
	byTable, order := map[string][]string{}, []string{}
	for _, c := range tamperings {
		table, column, _ := strings.Cut(c.field, ".")
		if byTable[table] == nil {
			order = append(order, table)
		}
		if !slices.Contains(byTable[table], column) {
			byTable[table] = append(byTable[table], column)
		}
	}
	db := plain(t, path)
	defer func() { _ = db.Close() }()
	var all strings.Builder
	for _, table := range order {
		list := strings.Join(byTable[table], ", ")
		rows, err := db.Query("SELECT " + list + " FROM " + table + " ORDER BY " + list)
		if err != nil {
			return "", err
		}
		values := make([]any, len(byTable[table]))
		into := make([]any, len(values))
		for i := range values {
			into[i] = &values[i]
		}
		for rows.Next() {
			if err := rows.Scan(into...); err != nil {
				return "", err
			}
			fmt.Fprintln(&all, table, values)
		}
		if err := rows.Err(); err != nil {
			return "", err
		}
	}
	return all.String(), nil
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return x[i] + "\n" + y[i]
		}
	}
	return fmt.Sprintf("%d lines, %d lines", len(x), len(y))
}
