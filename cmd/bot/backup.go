package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"shopfloat/internal/backup"
	"shopfloat/internal/chat"
)

// backupCmd makes a copy, beside a bot that runs.
type backupCmd struct {
	To string `arg:"positional,required" placeholder:"FILE|FOLDER" help:"A new file, or a folder."`
	DB string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file to copy."`
}

// Run prints what is in the copy. A fault that the file itself has is named; then
// the exit code is 1, though the copy is there.
func (c *backupCmd) Run(e *env) error {
	m, err := backup.Write(e.ctx, c.DB, c.To, time.Now())
	if err != nil {
		return err
	}
	if err := backup.Note(c.DB, m); err != nil {
		return err
	}
	return tellCopy(e.stdout, "copied into", m)
}

// restoreCmd puts a copy in the place of a file that is gone.
type restoreCmd struct {
	From string `arg:"positional,required" placeholder:"COPY" help:"What bot backup made, or any file of a shop."`
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file to make."`
}

// Run refuses to write over anything.
func (c *restoreCmd) Run(e *env) error {
	m, err := backup.Restore(e.ctx, c.From, c.DB, time.Now())
	if err != nil {
		return err
	}
	if err := tellCopy(e.stdout, "restored into", m); err != nil {
		return err
	}
	_, err = fmt.Fprintln(e.stdout, "When the bot starts, it tells each person up to when it knows of them.")
	return err
}

// machinesMax bounds the machines that are told one by one.
const machinesMax = 20

func tellCopy(w io.Writer, what string, m backup.Made) error {
	_, err := fmt.Fprintf(w, "%s %s: machines %d, entries %d, photos %d, %d bytes, newest %s; tried out\n",
		what, m.Path, len(m.Reports), m.Entries, m.Photos, m.Bytes, m.Newest.UTC().Format("2006-01-02 15:04 UTC"))
	for i, rep := range m.Reports {
		if err != nil || i == machinesMax {
			break
		}
		_, err = fmt.Fprintf(w, "machine %d (shop %d): entries %d, check word %s\n",
			rep.Machine, rep.Shop, rep.Entries, rep.Word)
	}
	for _, f := range m.Faults {
		if err == nil {
			_, err = fmt.Fprintln(w, f)
		}
	}
	if err == nil && len(m.Faults) > 0 {
		err = fmt.Errorf("%s is whole, but %d things in it do not hold together, as in what was copied",
			m.Path, len(m.Faults))
	}
	return err
}

// copies are how serve makes copies by itself.
type copies struct {
	Backup       string `arg:"env:SHOPFLOAT_BACKUP" placeholder:"FOLDER" help:"Make a copy here each day."`
	BackupDays   int    `arg:"--backup-days" placeholder:"N" default:"14" help:"Keep the copies of so many days."`
	BackupMonths int    `arg:"--backup-months" placeholder:"N" default:"12" help:"And one of so many months."`
}

func (c copies) keep() backup.Keep { return backup.Keep{Days: c.BackupDays, Months: c.BackupMonths} }

// copied tells of the last copy.
func (s *service) copied() *chat.Copied {
	m, known, err := backup.Last(s.file)
	if err != nil || !known {
		return nil
	}
	return &chat.Copied{At: m.At, Entries: m.Entries, Faults: len(m.Faults)}
}

// backUp looks each hour whether the copy of the day is due. Owners hear, once a
// day, of one that cannot be made.
func (s *service) backUp(ctx context.Context) error {
	if s.copies.Backup == "" {
		return nil
	}
	var told time.Time
	for tick := time.NewTicker(time.Hour); ; {
		m, made, err := backup.Daily(ctx, s.file, s.copies.Backup, s.copies.keep(), time.Now())
		if made {
			s.log.Info("copy made", "file", m.Path, "entries", m.Entries, "bytes", m.Bytes, "faults", len(m.Faults))
			if bad := backup.Note(s.file, m); bad != nil {
				s.log.Warn("the copy could not be noted", "why", bad)
			}
		}
		if err != nil && ctx.Err() == nil {
			s.log.Error("no copy could be made", "why", err)
			if now := time.Now(); now.Sub(told) >= 24*time.Hour {
				told = now
				if err := s.tellOwners(ctx, 0, "no-copy", ""); err != nil {
					s.log.Error("owners could not be told", "why", err)
				}
			}
		}
		select {
		case <-ctx.Done():
			tick.Stop()
			return nil
		case <-tick.C:
		}
	}
}
