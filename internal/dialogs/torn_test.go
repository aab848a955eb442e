package dialogs_test

import (
	"os"
	"strings"
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dialogs/trade"
)

// The example of DEVELOPERS.md begins here.

// Torn records torn notes that were put aside.
func Torn() *engine.Flow {
	return &engine.Flow{
		Name: "torn", Title: "found", Version: 1, Start: startTorn,
		Safe: engine.SafeOpen, Presence: engine.AtWork, Company: engine.OneAtATime,
		Tells: engine.TellsNothing, Again: engine.AnswersAgain, Paper: engine.OffPaper,
		Loses: engine.LosesCounts, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{{Name: "found", Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.OnlyFigures}},
		Asks: []engine.Asked{tornNotes},
		Screens: map[string]engine.Screen{
			"picked": tornNotes.Screen(),
			"review": ask.Booking{Read: readTorn, Book: bookTorn, Answer: ask.TypedCounts(ask.Only(tornNotes)),
				Other: ask.Changes(engine.GoBack("picked"))}.Screen(),
		},
	}
}

var tornNotes = ask.Question{Name: "picked", Lines: ask.KindLines, Partial: true, What: "what.found",
	Next: func(*engine.Talk) string { return "review" }}

func startTorn(c *engine.Talk) {
	if trade.Ready(c) != nil {
		c.GoTo("picked")
		ask.Take(c, tornNotes.Answer)
	}
}

func readTorn(c *engine.Talk) []chat.Block {
	return []chat.Block{chat.Lines(c.V.Say("review.found", "notes", c.Notes(tornNotes.Notes(c))))}
}

func bookTorn(c *engine.Talk) {
	notes := tornNotes.Notes(c)
	r := books.Record{Kind: books.Found, Period: ask.Target(c).No, Where: books.Path}
	for _, f := range notes.Faces() {
		r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: notes[f]})
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	c.Close(chat.Lines(c.V.Say("found-recorded", "notes", c.Notes(notes), "when", c.Clock(c.When()))))
}

// The example of DEVELOPERS.md ends here.

// What DEVELOPERS.md shows is what is compiled here.
func TestExampleIsShown(t *testing.T) {
	source, err := os.ReadFile("torn_test.go")
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(source), "// The example of DEVELOPERS.md begins here.\n")
	example, _, ok := strings.Cut(after, "// The example of DEVELOPERS.md ends here.\n")
	shown, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	block := "```go\n" + strings.TrimSpace(example) + "\n```"
	if !ok || len(example) < 1000 || !strings.Contains(string(shown), block) {
		t.Error("DEVELOPERS.md shows another dialog than the one in torn_test.go")
	}
}

// And it works: asked, changed by a typed line, read back and booked at a tap.
func TestExampleIsPlayed(t *testing.T) {
	f := floor.New(t, floor.Of(Torn()))
	f.Record(2, books.Ruled(books.Record{Kind: books.Opening, Happened: f.Now.UTC(), Figures: []books.Figure{
		{Field: books.Loaded, Box: 1, Face: "50", Notes: 40}, {Field: books.Loaded, Box: 2, Face: "20", Notes: 150},
		{Field: books.Loaded, Box: 3, Face: "10", Notes: 200}}}))
	f.Expect(f.Says("staff1", "found 20x2"), "2 x 20s|Right?|[Confirm]|[Change]", "")
	f.Expect(f.Says("staff1", "20x3"), "3 x 20s|Right?", "2 x 20s")
	f.Expect(f.Taps("staff1", "Confirm"), "3 x 20s|06:40", "Right?")
	last := f.Entries[len(f.Entries)-1]
	if last.Kind != books.Found || last.By != 2 || len(last.Figures) != 1 || last.Figures[0].Notes != 3 {
		t.Errorf("booked %+v", last)
	}
}
