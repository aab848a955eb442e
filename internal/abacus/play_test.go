package abacus_test

import (
	"slices"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// aDay plays what happens on one day of the calendar.
func (h *history) aDay() {
	day := reminders.On(h.shop, h.date)
	if h.one(14, "hours change") {
		h.at(5 * 60)
		h.changeHours()
	}
	if day.Closed == reminders.Trading || h.one(8, "open anyway") {
		h.at(int(6*60 + h.n("minutes", 5*60)))
		h.morning()
	}
	for range h.n("doings", 4) {
		h.at(int(12*60 + h.n("minutes", 6*60)))
		h.doing()
	}
	if h.one(3, "bank") {
		h.at(18 * 60)
		h.bank()
	}
	if h.m.Open != 0 && !h.one(6, "stays open") {
		h.at(rapid.SampledFrom([]int{20*60 + 30, 21*60 + 10, 24*60 + 30}).Draw(h.T, "count"))
		h.count(h.m.Open)
		if h.one(8, "again") {
			h.count(h.m.Last().No)
		}
		if !h.one(4, "figures later") {
			h.finish()
		}
	}
	h.date = h.date.Add(1)
}

func (h *history) changeHours() {
	s := h.shop.Settings
	if h.one(2, "closed today") {
		s.Plan = s.Plan.With(shop.Change{From: h.date, To: h.date, Closed: true, At: h.now}, h.date)
		made, err := shop.New(1, h.shop.Version+1, s)
		if err != nil {
			h.Fatal(err)
		}
		h.shop = made
		return
	}
	h.shop = laidDown(h.T, h.shop.Version+1, s)
}

// morning opens, after what yesterday left was counted if nobody did.
func (h *history) morning() {
	if open := h.m.Open; open != 0 {
		if h.one(2, "goes on") {
			return // it runs on; a slip of its own may be printed
		}
		left := books.Record{Kind: books.Count, Period: open, Marks: []books.Mark{books.Early},
			Figures: h.boxes(books.Remaining, 90)}
		if h.one(2, "tray not counted") {
			left.Marks = append(left.Marks, books.NoTray)
		} else {
			left.Figures = append(left.Figures, h.kinds(books.Refused, 3)...)
		}
		h.record(left)
	}
	h.record(books.Record{Kind: books.Opening, Figures: h.boxes(books.Loaded, 150)})
	if h.one(3, "figures in the morning") {
		h.finish()
	}
}

// doing is one of all that happens beside opening and closing.
func (h *history) doing() {
	open := h.m.Open
	switch rapid.IntRange(0, 12).Draw(h.T, "doing") {
	case 0:
		h.record(books.Record{Kind: books.TopUp, Period: open, Figures: h.box(books.Added, 50)})
	case 1:
		left := h.box(books.Left, 60)
		in := left[0]
		in.Field, in.Notes = books.Added, h.n("added", 60)
		h.record(books.Record{Kind: books.Swap, Period: open, Figures: append(left, in)})
	case 2:
		h.move(open)
	case 3:
		r := books.Record{Kind: books.Test, Period: open, Figures: h.box(books.Tried, 2),
			Where: rapid.SampledFrom([]books.Place{books.Tray, books.Boxes, books.Cash, books.Till}).
				Draw(h.T, "where")}
		if h.one(2, "counted") {
			r.Marks = []books.Mark{books.Counted}
		}
		h.record(r)
	case 4:
		h.record(books.Record{Kind: books.Found, Period: open, Figures: h.kinds(books.FoundAt, 3),
			Where: rapid.SampledFrom([]books.Place{books.Tray, books.Path}).Draw(h.T, "where")})
	case 5:
		h.record(books.Record{Kind: books.Level, Period: open, Figures: h.boxes(books.Shown, 100)})
	case 6, 7:
		h.slip(open)
	case 8:
		h.finish()
	case 9:
		h.late()
	case 10, 11:
		h.correct()
	default:
		h.takeBack()
	}
}

func (h *history) move(open int64) {
	box := rapid.SampledFrom(h.shop.Machines[0].Boxes).Draw(h.T, "box")
	notes := 1 + h.n("notes", 20)
	from := func(a, b books.Place) []books.Move {
		return []books.Move{books.NewMove(a, b, box.Face, notes)}
	}
	place := books.BoxPlace(box.Position)
	h.record(rapid.SampledFrom([]books.Record{
		{Kind: books.Moved, Period: open, Reason: books.Change, Moves: from(place, books.Till)},
		{Kind: books.Moved, Period: open, Reason: books.Returned, Moves: from(books.Till, place)},
		{Kind: books.Moved, Reason: books.Returned, Moves: from(books.Till, books.Cash)},
		{Kind: books.Moved, Reason: books.Change, Moves: from(books.Cash, books.Till)},
		{Kind: books.Moved, Reason: books.FromBank, Moves: from(books.Bank, books.Cash)},
		{Kind: books.Moved, Period: open, Reason: books.Warning, Moves: from(place, books.Cash)},
		{Kind: books.Moved, Period: open, Reason: books.FromBank, Moves: from(books.Bank, place)},
	}).Draw(h.T, "move"))
}

func (h *history) count(no int64) {
	r := books.Record{Kind: books.Count, Period: no, Figures: h.boxes(books.Remaining, 120)}
	if h.one(6, "tray not counted") {
		r.Marks = []books.Mark{books.NoTray}
	} else {
		r.Figures = append(r.Figures, h.kinds(books.Refused, 3)...)
	}
	r.Figures = append(r.Figures, h.kinds(books.FoundAt, 1)...)
	h.record(r)
}

// slip types in what a settlement printed.
func (h *history) slip(no int64) bool {
	r := books.Record{Kind: books.Settlement, Period: no}
	if h.one(4, "sums only") {
		r.Amounts = []books.Amount{{Field: books.PaidOut, Value: decimal.NewFromInt(10 * h.n("paid", 500))},
			{Field: books.Cancelled, Value: decimal.NewFromInt(10 * h.n("back", 4))}}
	} else {
		r.Figures = append(h.kinds(books.PaidOut, 90), h.kinds(books.Cancelled, 2)...)
	}
	if h.one(12, "restarted") {
		how := rapid.SampledFrom([]books.Mark{books.Unsettled, books.Restarted}).Draw(h.T, "how")
		r.Marks = []books.Mark{how}
	}
	return h.record(r)
}

// finish types in the figures of periods that were counted and closes them.
func (h *history) finish() {
	for _, p := range h.m.Pending() {
		if len(p.Slips) == 0 || h.one(3, "one more") {
			h.slip(p.No)
		}
		h.closes(p.No)
	}
}

func (h *history) closes(no int64) {
	r := books.Record{Kind: books.Close, Period: no}
	if h.shop.Nightly {
		r.Where = books.Cash
	}
	h.record(r)
}

// late enters a whole day of before from paper while another is open.
func (h *history) late() {
	if h.m.Open == 0 {
		return
	}
	then := h.m.Current().Opened.AddDate(0, 0, -1)
	if !h.recordAt(then, books.Record{Kind: books.Opening, Marks: []books.Mark{books.Paper},
		Figures: h.boxes(books.Loaded, 150)}) {
		return
	}
	no := h.m.Seq
	h.recordAt(then.Add(8*60*60*1e9), books.Record{Kind: books.Count, Period: no,
		Figures: h.boxes(books.Remaining, 100)})
	h.slip(no)
	h.closes(no)
}

// correct says that an earlier record does not hold, and what does.
func (h *history) correct() {
	seq := int64(len(h.entries)) - h.n("back", 60)
	if seq < 1 || !books.Correctable(h.entries[seq-1].Kind) {
		return
	}
	old, ok := books.AsCorrected(h.entries, seq)
	if !ok {
		return
	}
	r := books.Record{Kind: books.Correction, Target: seq, Period: old.Period, Reason: books.Mistyped}
	if old.Kind == books.Opening {
		r.Period = seq
	}
	if in := old.Record; !h.one(4, "does not hold") || in.Kind == books.Opening || in.Kind == books.Count {
		in.Figures = slices.Clone(in.Figures)
		for i := range in.Figures {
			in.Figures[i].Notes = max(0, in.Figures[i].Notes+h.n("more", 6)-3)
		}
		movable := in.Period != 0 && slices.Contains([]books.Kind{books.TopUp, books.Settlement, books.Found,
			books.Test}, in.Kind)
		if movable && h.one(3, "to another day") && len(h.m.Periods) > 0 {
			in.Period, r.Reason = rapid.SampledFrom(h.m.Periods).Draw(h.T, "period").No, books.Misplaced
		}
		if in.Kind == books.Credit && h.one(2, "another sum") {
			more := h.money(900).Sub(decimal.NewFromInt(300))
			in.Amounts, in.Parts = slices.Clone(in.Amounts), slices.Clone(in.Parts)
			in.Amounts[0].Value, in.Parts[0].Value = in.Amounts[0].Value.Add(more), in.Parts[0].Value.Add(more)
		}
		r.Instead = &in
	}
	if h.record(r) {
		if back := dues.Overgiven(h.m.Claims); len(back) > 0 {
			h.record(books.Record{Kind: books.WriteOff, Reason: books.Mistyped, Parts: back})
		}
	}
}

// light are records that undo looks past.
var light = []books.Kind{books.Undo, books.Level}

func (h *history) takeBack() {
	for _, b := range slices.Backward(h.m.Recent) {
		if !b.Void && !slices.Contains(light, b.Kind) {
			h.record(books.Record{Kind: books.Undo, Target: b.Seq, Period: b.Period})
			return
		}
	}
}

// bank plays what the bank does: it pays for days of any age, in full, in part,
// with charges, for nothing that is known; it takes money; an owner gives up.
func (h *history) bank() {
	due := h.m.Due()
	if len(due) == 0 {
		return
	}
	first := rapid.IntRange(0, len(due)-1).Draw(h.T, "claim")
	some := due[first:min(len(due), first+1+int(h.n("several", 2)))]
	var parts []books.Part
	sum := decimal.Zero
	add := func(as books.Share, of int64, v decimal.Decimal) {
		parts, sum = append(parts, books.Part{As: as, Of: of, Value: v}), sum.Add(v)
	}
	for _, c := range some {
		left := c.Left()
		if h.one(5, "in part") {
			left = left.Div(decimal.NewFromInt(2)).Round(2)
		}
		add(books.Pays, c.Seq, left)
	}
	switch rapid.IntRange(0, 7).Draw(h.T, "bank") {
	case 0:
		add(books.Charge, 0, h.money(3).Neg())
	case 1:
		add(books.Fee, 0, h.money(9))
	case 2:
		as := rapid.SampledFrom([]books.Share{books.Extra, books.Unknown, books.Foreign}).Draw(h.T, "as")
		add(as, 0, h.money(90))
	case 3:
		v := h.money(60)
		h.record(books.Record{Kind: books.Debit, Period: some[0].Period,
			Amounts: []books.Amount{{Field: books.Debited, Value: v}},
			Parts:   []books.Part{{As: books.Dispute, Value: v.Neg()}}})
		return
	case 4:
		h.record(books.Record{Kind: books.WriteOff, Reason: books.Other,
			Parts: []books.Part{{As: books.GivenUp, Of: some[0].Seq, Value: parts[0].Value}}})
		return
	case 5:
		if len(h.m.Loose) > 0 {
			l := h.m.Loose[0]
			h.record(books.Record{Kind: books.Matched, Parts: []books.Part{
				{As: l.As, Of: l.Seq, Value: l.Value.Neg()}, {As: books.Pays, Of: some[0].Seq, Value: l.Value}}})
			return
		}
	}
	h.record(books.Record{Kind: books.Credit, Parts: parts,
		Amounts: []books.Amount{{Field: books.Credited, Value: sum}}})
}
