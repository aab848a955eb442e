package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"shopfloat/internal/chart"
	"shopfloat/internal/leaks"
	"shopfloat/internal/pictures"
	"shopfloat/internal/texts"
)

// leaksCmd looks for small differences that keep coming back.
type leaksCmd struct {
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The shop's file."`
	Shop int64  `default:"1" placeholder:"NUMBER" help:"Which shop; they are numbered from 1."`
	PNG  string `placeholder:"FILE" help:"Also draw the differences."`
}

// Run prints what was found, machine by machine.
func (c *leaksCmd) Run(e *env) error {
	l, err := openLedgers(e, c.DB, c.Shop)
	if err != nil {
		return err
	}
	defer func() { _ = l.reader.Close() }()
	err = l.pictured(e, func(m pictures.Machine, i int) error {
		days, err := leaks.Learn(m.Shop, m.Kit.ID, m.Entries)
		if err != nil {
			return err
		}
		said := append([]string{m.Voice.Say("leaks.title", "name", m.Kit.Name)},
			leaks.Say(m.Voice, leaks.Look(days, m.Kit.Faces()))...)
		if _, err := fmt.Fprintln(e.stdout, strings.Join(said, "\n")); err != nil {
			return err
		}
		if c.PNG == "" {
			return nil
		}
		return drawn(e, m, pictures.Differences, c.PNG, i)
	})
	return err
}

// pictureCmd draws one of the pictures of the chat.
type pictureCmd struct {
	What string `arg:"positional,required" help:"month, level, differences or faults."`
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The shop's file."`
	Shop int64  `default:"1" placeholder:"NUMBER" help:"Which shop; they are numbered from 1."`
	PNG  string `placeholder:"FILE" help:"Where to draw it; further machines with a number added."`
}

// Run draws the picture of every machine.
func (c *pictureCmd) Run(e *env) error {
	draw := pictures.Of(c.What)
	if draw == nil {
		return misuse(fmt.Errorf("picture %s: want month, level, differences or faults", c.What))
	}
	if c.PNG == "" {
		return misuse(errors.New("picture needs a file to draw: --png FILE"))
	}
	l, err := openLedgers(e, c.DB, c.Shop)
	if err != nil {
		return err
	}
	defer func() { _ = l.reader.Close() }()
	return l.pictured(e, func(m pictures.Machine, i int) error { return drawn(e, m, draw, c.PNG, i) })
}

// pictured hands over each machine, as of its last entry.
func (l *ledgers) pictured(e *env, each func(m pictures.Machine, i int) error) error {
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	voice := catalogue.In("en", l.shop.Country, l.shop.Currency)
	for i := range l.shop.Machines {
		m := pictures.Machine{Voice: voice, Shop: l.shop, Kit: &l.shop.Machines[i]}
		if m.Entries, err = l.reader.Entries(e.ctx, m.Kit.ID); err != nil {
			return err
		}
		if n := len(m.Entries); n > 0 {
			m.Now = m.Entries[n-1].Recorded
		}
		if err := each(m, i); err != nil {
			return err
		}
	}
	return nil
}

// drawn writes the picture of a machine, or says that there is nothing to draw.
func drawn(e *env, m pictures.Machine, draw pictures.Maker, file string, i int) error {
	if i > 0 {
		file = fmt.Sprintf("%s.%d.png", file, i+1)
	}
	s, err := draw(m)
	if err != nil {
		return err
	}
	if len(m.Entries) == 0 || len(s.Graphs) == 0 {
		_, err := fmt.Fprintln(e.stdout, m.Voice.Say("leaks.not-known"))
		return err
	}
	data, err := chart.DrawnSheet(s)
	if err != nil {
		return err
	}
	if err := os.WriteFile(file, data, 0o600); err != nil {
		return errors.Join(fmt.Errorf("picture of %s", m.Shop.Name), err)
	}
	_, err = fmt.Fprintf(e.stdout, "%s: %s\n", s.Title, file)
	return err
}
