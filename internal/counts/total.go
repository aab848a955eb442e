package counts

// readTotal reads the amount after or before the word total.
func (p *parser) readTotal() {
	p.i++
	for p.kind(p.i) == assignAtom || p.kind(p.i) == ofAtom {
		p.i++
	}
	if k := p.kind(p.i); k == figureAtom || k == moneyAtom || k == numberAtom {
		p.setTotal(p.atoms[p.i])
		p.i++
		return
	}
	n := len(p.entries)
	if n == 0 {
		return
	}
	if e := p.entries[n-1]; !e.keyed && (e.isMoney || (n == 1 && e.run > 0)) {
		p.setTotal(p.atoms[e.atom])
		p.entries = p.entries[:n-1]
	}
}

// setTotal keeps an amount as the total.
func (p *parser) setTotal(a atom) {
	p.total, p.totaled = a.fig, true
	if a.kind == figureAtom {
		p.total = p.amount(p.text[a.start:a.end])
	}
	if a.foreign {
		p.total.code = OtherCurrency
	}
	p.totalText = p.text[a.start:a.end]
}

// giveTotal gives the total back if there was one.
func (s *settler) giveTotal(res *Result) {
	switch {
	case !s.totaled || res.Prose:
	case s.total.code != OK:
		s.fail(Problem{Code: s.total.code, Near: near(s.totalText), Line: -1})
	default:
		res.Total = s.total.amount().String()
		if len(s.entries) == 0 && !s.req.Values {
			s.fail(Problem{Code: TotalOnly, Near: near(s.totalText), Value: res.Total, Line: -1})
		}
	}
}
