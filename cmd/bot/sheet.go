package main

import (
	"shopfloat/internal/sheet"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// sheetCmd prints the paper form for a day without phone or line.
type sheetCmd struct{}

// Run prints the form of the example shop.
func (c *sheetCmd) Run(e *env) error {
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		return err
	}
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	return sheet.Write(e.stdout, catalogue.In("en", s.Country, s.Currency), s, &s.Machines[0])
}
