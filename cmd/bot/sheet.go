package main

import (
	"errors"
	"fmt"
	"io"

	"shopfloat/internal/sheet"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/texts"
)

// sheetCmd prints the paper form for a day without phone or line.
type sheetCmd struct {
	DB   string  `arg:"env:SHOPFLOAT_DB" placeholder:"FILE" help:"Print it for the shops of this file; else for the example shop."`
	Shop shop.ID `placeholder:"NUMBER" help:"Only this shop of the file."`
}

// Run prints one form for each machine, parted by form feeds.
func (c *sheetCmd) Run(e *env) error {
	if c.Shop < 0 || c.Shop > 0 && c.DB == "" {
		return misuse(errors.New("--shop: want the number of a shop in --db FILE"))
	}
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	forms := 0
	err = c.each(e, func(s *shop.Shop) error {
		v := catalogue.In("en", s.Country, s.Currency)
		for i := range s.Machines {
			if forms++; forms > 1 {
				if _, err := io.WriteString(e.stdout, "\f"); err != nil {
					return err
				}
			}
			if err := sheet.Write(e.stdout, v, s, &s.Machines[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil && forms == 0 {
		return fmt.Errorf("%s has no machine%s to print a form for", c.DB, c.ofShop())
	}
	return err
}

func (c *sheetCmd) ofShop() string {
	if c.Shop == 0 {
		return ""
	}
	return fmt.Sprintf(" of a shop %d", c.Shop)
}

// each hands over the shops that forms are for.
func (c *sheetCmd) each(e *env, fn func(*shop.Shop) error) error {
	if c.DB == "" {
		s, err := shop.New(1, 1, shop.Example())
		if err != nil {
			return err
		}
		return fn(s)
	}
	r, err := store.OpenReader(e.ctx, c.DB)
	if err != nil {
		return misuse(err)
	}
	defer func() { _ = r.Close() }()
	return r.Shops(e.ctx, func(s *shop.Shop) error {
		if c.Shop != 0 && s.ID != c.Shop {
			return nil
		}
		return fn(s)
	})
}
