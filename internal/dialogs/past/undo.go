package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/telling"
)

// UndoFlow takes the last record back, by who made it and only lately.
func UndoFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoUndo, Title: "undo", Version: 1, Start: startUndo, Of: engine.ThatMoment,
		Draft: func() any { return &undoDraft{} },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesNothing,
		Stopped: engine.NothingBooked,
		Rights:  engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoUndo, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.OnlyFigures,
				Menu: 12},
		},
		Screens: map[string]engine.Screen{"ask": ask.Booking{Read: readUndo, Book: bookUndo, What: "what.undo",
			Asks: func(*engine.Talk) string { return "" }}.Screen()},
	}
}

// undoDraft is what is to be taken back.
type undoDraft struct {
	Seq int64 `json:"seq,omitempty"` // of the record
}

func startUndo(c *engine.Talk) {
	b, why := bygone.Undoable(c.Teller)
	if b == nil {
		c.Close(chat.Block{Text: why})
		return
	}
	engine.Drafted[undoDraft](c).Seq = b.Seq
	c.GoTo("ask")
}

func readUndo(c *engine.Talk) []chat.Block {
	b, why := bygone.Undoable(c.Teller)
	if b == nil || b.Seq != engine.Drafted[undoDraft](c).Seq {
		c.Close(chat.Block{Text: c.V.Say("undo.changed") + "\n" + why})
		return nil
	}
	return []chat.Block{chat.Lines(c.V.Say("undo.ask"), telling.HistoryLine(c.Teller, *b))}
}

// bookUndo writes a reversing entry. The books of this step are not refolded:
// the store does that, so nothing after it may read them.
func bookUndo(c *engine.Talk) {
	b, _ := bygone.Undoable(c.Teller)
	if b == nil || b.Seq != engine.Drafted[undoDraft](c).Seq {
		return
	}
	line := c.V.Say("undone", "what", c.V.Say("kind."+string(b.Kind)), "when", c.Clock(b.Happened))
	r := books.Record{Kind: books.Undo, Period: b.Period, Target: b.Seq, Happened: c.In.At.UTC()}
	if p := c.M.Period(b.Period); p != nil && b.Kind == books.Count && trade.Knew(c, p) {
		r.Marks = []books.Mark{books.NotBlind} // so that whoever counts again is known to
	}
	c.Records = append(c.Records, r)
	next := c.V.Say("undone-again")
	if b.Kind == books.Close {
		next = c.V.Say("undone-finish")
	}
	c.Close(chat.Lines(line, next))
}
