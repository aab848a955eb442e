package advice_test

import (
	"testing"

	"shopfloat/internal/advice"
)

// BenchmarkAdvice is all that one question costs a shop of two years, the reading of
// its ledger from the disk left out.
func BenchmarkAdvice(b *testing.B) {
	l := newLedger(b, nil)
	next := l.weeks(730)
	b.ReportAllocs()
	for b.Loop() {
		past, err := advice.Learn(l.shop, 1, l.entries)
		if err != nil {
			b.Fatal(err)
		}
		o, err := advice.NewOutlook(l.shop, l.kit(), past, next)
		if err != nil {
			b.Fatal(err)
		}
		mustFor(b, o, next, nil)
	}
}

// BenchmarkOutlook is the advice alone, its past known.
func BenchmarkOutlook(b *testing.B) {
	l := newLedger(b, nil)
	next := l.weeks(730)
	past := l.past()
	for b.Loop() {
		o, err := advice.NewOutlook(l.shop, l.kit(), past, next)
		if err != nil {
			b.Fatal(err)
		}
		mustFor(b, o, next, nil)
	}
}

// BenchmarkBacktest is what looking back in the chat costs: 56 days, three kinds.
func BenchmarkBacktest(b *testing.B) {
	l := newLedger(b, nil)
	l.weeks(730)
	past := l.past()
	for b.Loop() {
		if _, err := advice.Backtest(l.shop, l.kit(), past, 56); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkState is what an opening costs of what is kept of three years: it is read, told as a
// shop's days, and forecast from.
func BenchmarkState(b *testing.B) {
	l := newLedger(b, nil)
	next := l.weeks(1100)
	s, err := advice.Learned(1, l.entries)
	if err != nil {
		b.Fatal(err)
	}
	text, err := s.MarshalText()
	if err != nil {
		b.Fatal(err)
	}
	past, err := s.Past(l.shop)
	if err != nil {
		b.Fatal(err)
	}
	for name, part := range map[string]func() error{
		"read": func() error { return new(advice.State).UnmarshalText(text) },
		"past": func() error { _, err := s.Past(l.shop); return err },
		"fit":  func() error { _, err := advice.NewOutlook(l.shop, l.kit(), past, next); return err },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if err := part(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
