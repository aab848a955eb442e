package backup

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"shopfloat/internal/store"
)

// stamp is how the name of a copy in a folder tells when it was made, in UTC.
const stamp = "shopfloat-20060102-150405.db"

// Name is the name of a copy in a folder.
func Name(at time.Time) string { return at.UTC().Format(stamp) }

// isCopy tells whether a file has the name of a copy.
func isCopy(path string) bool {
	_, err := time.Parse(stamp, filepath.Base(path))
	return err == nil
}

// copies lists the copies in a folder, oldest first.
func copies(folder string) (list []time.Time, err error) {
	files, err := os.ReadDir(folder)
	for _, f := range files {
		if at, bad := time.Parse(stamp, f.Name()); bad == nil && f.Type().IsRegular() {
			list = append(list, at)
		}
	}
	slices.SortFunc(list, time.Time.Compare)
	return list, err
}

// Keep is how many copies stay: the newest of so many days and of so many months.
type Keep struct{ Days, Months int }

// Lapsed tells which of some copies need not stay, given when each was made,
// oldest first. The newest always stays.
func (k Keep) Lapsed(list []time.Time) (lapsed []time.Time) {
	days, months := map[string]bool{}, map[string]bool{}
	for i := len(list) - 1; i >= 0; i-- {
		day, month := list[i].Format("2006-01-02"), list[i].Format("2006-01")
		byDay := !days[day] && len(days) < k.Days
		byMonth := !months[month] && len(months) < k.Months
		if byDay {
			days[day] = true
		}
		if byMonth {
			months[month] = true
		}
		if !byDay && !byMonth && i < len(list)-1 {
			lapsed = append(lapsed, list[i])
		}
	}
	return lapsed
}

// Tidy removes from a folder the copies that need not stay, and nothing else.
func (k Keep) Tidy(folder string) error {
	list, err := copies(folder)
	if err != nil {
		return fmt.Errorf("copies: %w", err)
	}
	for _, at := range k.Lapsed(list) {
		path := filepath.Join(folder, Name(at))
		err = errors.Join(err, os.Remove(path), os.RemoveAll(path+".photos"))
	}
	return err
}

// Due tells whether a folder lacks a copy of the last day.
func Due(folder string, now time.Time) (bool, error) {
	list, err := copies(folder)
	if err != nil || len(list) == 0 {
		return err == nil, err
	}
	last := list[len(list)-1]
	return now.Sub(last) >= 24*time.Hour || last.After(now.Add(time.Hour)), nil
}

// Daily makes the copy of a day in a folder, where it is due, and lets old ones go.
func Daily(ctx context.Context, file, folder string, k Keep, now time.Time) (m Made, made bool, err error) {
	if err := os.Mkdir(folder, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return m, false, err
	}
	due, err := Due(folder, now)
	if err != nil || !due {
		return m, false, err
	}
	left, err := filepath.Glob(filepath.Join(folder, "shopfloat-*.db"+part))
	for _, name := range left {
		err = errors.Join(err, os.RemoveAll(name))
	}
	if err != nil {
		return m, false, err
	}
	if m, err = Write(ctx, file, folder, now); err != nil {
		return m, false, err
	}
	return m, true, k.Tidy(folder)
}

// notePath is what is remembered of the last copy, beside the file.
func notePath(file string) string { return store.Beside(file, ".copied") }

// Note remembers the last copy of a file.
func Note(file string, m Made) error {
	data, err := json.Marshal(m)
	if err != nil {
		return err
	}
	name := notePath(file)
	if err := os.WriteFile(name+part, data, 0o600); err != nil {
		return err
	}
	return os.Rename(name+part, name)
}

// Last gives the last copy of a file that was made; ok is false when none is known of.
func Last(file string) (m Made, ok bool, err error) {
	data, err := os.ReadFile(notePath(file))
	if errors.Is(err, fs.ErrNotExist) {
		return m, false, nil
	}
	if err == nil {
		err = json.Unmarshal(data, &m)
	}
	return m, err == nil, err
}
