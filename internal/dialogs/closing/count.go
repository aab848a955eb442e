package closing

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// count is what a count keeps beside its figures.
type count struct {
	Skipped bool           `json:"skipped,omitempty"` // nobody counted
	NoTray  bool           `json:"noTray,omitempty"`  // nobody looked into the box for refused notes
	InTray  map[int64]bool `json:"inTray,omitempty"`  // by record of notes found: counted there
}

// begin asks for the count of a period.
func (n counting) begin(c *engine.Talk, p *books.Period) {
	c.State.Draft.Period = p.No
	c.GoTo(n.left)
	ask.Take(c, n.takes)
}

// takes takes a count of the boxes, and of refused notes behind it. That there are none is asked anyway.
func (n counting) takes(c *engine.Talk, text string) bool {
	boxes, refused, _ := lines.RefusedBox(text)
	if !n.boxes().Answer(c, boxes) {
		return false
	}
	if refused != "" && !n.refused().Answer(c, refused) {
		c.First(telling.NotTaken(c.Teller, refused))
	}
	return true
}

// anew asks for the count once more.
func (n counting) anew(c *engine.Talk) {
	c.Unanswer(n.left, n.tray)
	c.State.Draft.Pending = ""
	if n.apart {
		c.Unanswer("found")
	}
	*n.of(c) = count{}
	c.GoTo(n.left)
}

// boxes asks what is in the note boxes.
func (n counting) boxes() ask.Question {
	q := ask.Question{Name: n.left, Lines: ask.BoxLines, Intro: n.intro, Check: n.above, What: "what.left",
		Stands: n.stands, Next: n.afterBoxes}
	if n.without != "" {
		q.Extra = func(c *engine.Talk) [][]chat.Button {
			return [][]chat.Button{c.Button("visit-uncounted", "uncounted")}
		}
		q.Taps = map[string]func(*engine.Talk){"uncounted": func(c *engine.Talk) {
			n.of(c).Skipped = true
			c.GoTo(n.without)
		}}
	}
	return q
}

// above asks a count back by nothing but what was typed, the box and the limit:
// nobody learns from it what should be there.
func (n counting) above(c *engine.Talk, l ask.Line, notes int64) ask.Doubt {
	boxes := n.boxes()
	v := boxes.Values(c)
	at, likely := lines.RoundMoney(boxes.Lines(c), v)
	switch d := lines.Above(l, notes, boxes.Notes(c).Value(), c.F.Shop.Limit); {
	case d.Why != "":
		return d
	case likely > 0 && l.Box == at+1:
		return ask.Doubt{Why: "money-round", Likely: likely}
	case l.Box == len(v) && lines.AllEqual(v):
		return ask.Doubt{Why: "all-equal"}
	}
	return lines.Nothing(notes)
}

// afterBoxes is where it goes on once the boxes are counted. What lies beside
// them is asked where the count is read back, so that the ordinary day has one card.
func (n counting) afterBoxes(c *engine.Talk) string {
	again := c.State.Draft.Retyped
	asked := again[n.tray] != "" || again["found"] != "" || ask.SomeAnswered(c.Counted(n.tray))
	return texts.Either(n.apart && !asked, "count-review", n.tray)
}

// aboutTray are words of the answer to what is in the box for refused notes.
const aboutTray = "tray reject rejects rejected refused way look looked checked found anything stuck them"

// refused asks what is in the box for refused notes.
func (n counting) refused() ask.Question {
	q := ask.Question{Name: n.tray, Lines: ask.KindLines, None: true, Partial: true, What: "what.tray",
		About: aboutTray, Stands: n.stands, Next: to(n.next),
		Check: func(_ *engine.Talk, l ask.Line, notes int64) ask.Doubt { return lines.Refused(l, notes) }}
	if n.apart {
		q.LeftOut, q.Passed = "no-tray", func(c *engine.Talk) bool { return n.of(c).NoTray }
		q.Extra = func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip-tray", "skip")} }
		q.Taps = map[string]func(*engine.Talk){"skip": func(c *engine.Talk) {
			n.of(c).NoTray = true
			ask.None(c, n.tray)
		}}
	}
	return q
}

// elsewhere asks for notes found in neither.
func (n counting) elsewhere() ask.Question {
	return ask.Question{Name: "found", Lines: ask.KindLines, None: true, Partial: true, What: "what.found",
		Stands: n.stands, Before: n.besides, Next: to("count-review")}
}

// askFindings asks of each lot of notes found earlier whether it is part of
// what was just counted, so that no note is counted twice.
func (n counting) askFindings(c *engine.Talk) *engine.Card {
	for _, f := range ask.Target(c).Findings {
		if _, said := n.of(c).InTray[f.Seq]; said {
			continue
		}
		if !n.fitsTray(c, f.Notes) {
			n.of(c).lies(f.Seq, false)
			continue
		}
		return &engine.Card{
			Body: []chat.Block{{Text: c.V.Say("ask.findings", "notes", c.Notes(f.Notes),
				"when", c.Clock(f.Happened), "where", c.V.Say("place."+string(f.Where)))}},
			Buttons: [][]chat.Button{c.Button("yes", "yes"), c.Button("no", "no")}}
	}
	if c.Counted("found") == nil && !kept(c).NotBlind { // it was asked together with the box for refused notes
		ask.None(c, "found")
	}
	c.GoTo("found")
	return nil
}

// lies remembers whether notes found earlier were counted in the box for refused notes.
func (k *count) lies(seq int64, inTray bool) {
	if k.InTray == nil {
		k.InTray = map[int64]bool{}
	}
	k.InTray[seq] = inTray
}

// fitsTray reports whether notes found earlier can be among those just counted in the box for refused notes.
func (n counting) fitsTray(c *engine.Talk, found books.Notes) bool {
	tray := lines.NotesOf(ask.KindLines(c), n.refused().Values(c))
	for f, notes := range found {
		if tray[f] < notes {
			return false
		}
	}
	return !n.of(c).NoTray
}

// inTray answers for the first lot of notes that is not answered for.
func (n counting) inTray(answer bool) func(*engine.Talk) {
	return func(c *engine.Talk) {
		for _, f := range ask.Target(c).Findings {
			if _, said := n.of(c).InTray[f.Seq]; !said {
				n.of(c).lies(f.Seq, answer)
				return
			}
		}
	}
}

// besidesTray are the notes found earlier that count apart from the box for refused notes.
func (n counting) besidesTray(c *engine.Talk) books.Notes {
	apart := books.Notes{}
	for _, f := range ask.Target(c).Findings {
		if in, said := n.of(c).InTray[f.Seq]; said && !in {
			apart.Add(f.Notes)
		}
	}
	return apart
}

// besides names them, so that nobody types them again.
func (n counting) besides(c *engine.Talk) string {
	apart := n.besidesTray(c)
	if len(apart) == 0 {
		return ""
	}
	return c.V.Say("besides", "notes", c.Notes(apart))
}

// counted gives the count as figures: what is left in the boxes, in the box for
// refused notes, and found elsewhere. None where nobody counted.
func (n counting) counted(c *engine.Talk) []books.Figure {
	if n.of(c).Skipped {
		return nil
	}
	figs := lines.Figures(books.Remaining, ask.BoxLines(c), n.boxes().Values(c), true)
	if !n.of(c).NoTray {
		figs = append(figs, lines.Figures(books.Refused, ask.KindLines(c), n.refused().Values(c), false)...)
	}
	if !n.apart {
		return figs
	}
	found := lines.NotesOf(ask.KindLines(c), n.elsewhere().Values(c))
	found.Add(n.besidesTray(c))
	return append(figs, lines.FiguresOf(books.FoundAt, found)...)
}

// record makes a record of the count, marked where the box for refused notes was passed over.
func (n counting) record(c *engine.Talk, kind books.Kind, marks ...books.Mark) books.Record {
	r := books.Record{Kind: kind, Period: ask.Target(c).No, Figures: n.counted(c), Marks: marks}
	if n.of(c).NoTray && kind == books.Count {
		r.Marks = append(r.Marks, books.NoTray)
	}
	return r
}

// day is the count as the part of a day that it is.
func (n counting) day(c *engine.Talk) cashmath.Day {
	figs := n.counted(c)
	return cashmath.Day{Remaining: cashmath.Notes(books.NotesIn(figs, books.Remaining)),
		Rejects: cashmath.Notes(books.NotesIn(figs, books.Refused)),
		Found:   cashmath.Notes(books.NotesIn(figs, books.FoundAt))}
}

// read reads the count back.
func (n counting) read(c *engine.Talk) []chat.Block {
	body, figs := []chat.Block{{Text: c.V.Say(n.head)}}, n.counted(c)
	if len(figs) == 0 {
		return body
	}
	table, _ := telling.CountTable(c.Teller, ask.BoxLines(c), n.boxes().Values(c))
	tray := telling.TrayLine(c.Teller, books.NotesIn(figs, books.Refused), n.of(c).NoTray)
	body = append(body, table, chat.Block{Text: tray})
	if found := books.NotesIn(figs, books.FoundAt); len(found) > 0 {
		body = append(body, chat.Block{Text: c.V.Say("review.found", "notes", c.Notes(found))})
	}
	return body
}

// beside asks, below the count, for whatever lies beside the boxes.
func (n counting) beside(c *engine.Talk) *engine.Card {
	if n.of(c).NoTray || c.Counted(n.tray) != nil && !slices.Contains(n.refused().Values(c), -1) {
		return nil
	}
	table, _ := telling.CountTable(c.Teller, ask.BoxLines(c), n.boxes().Values(c))
	body := []chat.Block{{Text: c.V.Say(n.head)}, table}
	if found := lines.Found(ask.Target(c)); len(found) > 0 {
		body = append(body, chat.Lines(c.V.Say("beside-found", "notes", c.Notes(found))))
	}
	return &engine.Card{Body: append(body, chat.Block{Text: c.V.Say("ask.beside")}), Buttons: [][]chat.Button{
		c.Button("confirm-nothing", "confirm-nothing"), c.Button("confirm-unlooked", "confirm-unlooked")}}
}

// nothingBeside books the count with nothing beside the boxes: what was found earlier counts apart.
func (n counting) nothingBeside(looked bool) func(*engine.Talk) {
	return ask.UnlessOvertaken(func(c *engine.Talk) {
		n.of(c).NoTray = !looked
		ask.None(c, n.tray)
		if c.Counted("found") == nil {
			ask.None(c, "found")
		}
		for _, f := range ask.Target(c).Findings {
			if _, said := n.of(c).InTray[f.Seq]; !said {
				n.of(c).lies(f.Seq, false)
			}
		}
		n.confirm(c)
	})
}

// reviews reads the count back and takes what is typed there: a number for each box may be
// for the boxes again, anything else lies beside them while that is not answered.
func (n counting) reviews() engine.Screen {
	s := ask.Booking{First: n.beside, Read: n.read, Book: n.confirm, Answer: n.typed,
		Other: ask.Changes(engine.GoBack("change")), Taps: map[string]func(*engine.Talk){
			"confirm-nothing": n.nothingBeside(true), "confirm-unlooked": n.nothingBeside(false)},
		Seldom: func(c *engine.Talk) [][]chat.Button {
			if n.beside(c) == nil {
				return nil
			}
			return [][]chat.Button{c.Button("change", "change")}
		}}.Screen()
	s.What = "what.beside"
	return s
}

func (n counting) typed(c *engine.Talk, s string) bool {
	tray, v := n.refused(), n.boxes().Values(c)
	whole := lines.Whole(s, ask.Request(c, ask.BoxLines(c), 0, n.boxes()))
	switch {
	case whole != nil && slices.Equal(whole, v):
		return true // the same once more: the card stands below
	case whole != nil && !slices.Contains(whole, 0), // not what lies in the box for refused notes, or hardly
		counts.Parse(s, ask.Request(c, tray.Lines(c), 0, tray)).Amends:
		return ask.TypedCounts(n.countedParts)(c, s)
	case n.beside(c) == nil && saysNone(c, tray, s):
		return true // once more that nothing else is there: the card stands below
	case n.beside(c) == nil:
		return ask.TypedCounts(n.countedParts)(c, s)
	}
	if !tray.Answer(c, s) {
		return false
	}
	c.GoTo(n.tray)
	return true
}

// saysNone reports whether words mean none of all kinds that a question is about.
func saysNone(c *engine.Talk, q ask.Question, s string) bool {
	res := counts.Parse(s, ask.Request(c, q.Lines(c), 0, q))
	some := func(i counts.Item) bool { return i.Notes != 0 }
	return len(res.Items) > 0 && res.Problem == nil && !slices.ContainsFunc(res.Items, some)
}

// countedParts are those of a count between which a typed figure is asked for.
func (n counting) countedParts(*engine.Talk) []ask.Question {
	return []ask.Question{n.boxes(), n.refused()}
}

// lines are the lines of the count, and its other parts, to be asked again.
func (n counting) lines(c *engine.Talk) []ask.Option {
	list := n.boxes().Reopening("line", "line-")(c)
	for _, part := range []string{n.tray, "found"} {
		list = append(list, ask.Option{Label: c.V.Say("button." + part), Value: part, Take: func(c *engine.Talk) {
			c.Unanswer(part)
			n.of(c).NoTray = n.of(c).NoTray && part != n.tray
			c.GoTo(part)
		}})
	}
	return list
}
