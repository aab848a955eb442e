package ask_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/texts"
)

// place is the draft of the made-up dialog.
type place struct {
	Shop    *string `json:"shop,omitempty"`
	Country *string `json:"country,omitempty"`
	Zone    *string `json:"zone,omitempty"`
	Me      *string `json:"me,omitempty"`
	Lock    *int    `json:"lock,omitempty"` // 0 has a key
}

// in reports whether the country was answered so.
func in(c *engine.Talk, code string) bool {
	country := engine.Drafted[place](c).Country
	return country != nil && *country == code
}

// laidDown is a made-up dialog of topics: a name that is typed, a country that is
// offered or typed and gives the clock, a clock, and a lock that is only offered.
func laidDown() ask.Topics[place] {
	type topic = ask.Topic[place, string]
	dublin := "Europe/Dublin"
	return ask.Topics[place]{
		topic{Name: "shop-name", In: func(d *place) **string { return &d.Shop }, Read: ask.ReadPlace,
			Show: ask.AsTyped},
		topic{
			Name: "country", In: func(d *place) **string { return &d.Country },
			Offer: func(*engine.Talk) []ask.Offer[string] {
				return []ask.Offer[string]{{Label: "Ireland", Value: "IE"}, {Label: "Spain", Value: "ES"}}
			},
			Read: func(_ *engine.Talk, s string) (value, problem string) {
				if len(s) != 2 {
					return "", "two letters, please"
				}
				return strings.ToUpper(s), ""
			},
			Doubt: func(_ *engine.Talk, v string) string {
				return map[bool]string{true: "so far away?"}[v == "NZ"]
			},
			Taken: func(c *engine.Talk) {
				if in(c, "IE") {
					engine.Drafted[place](c).Zone = &dublin
				}
			},
			Show: func(_ *engine.Talk, v string) string { return "land of " + v },
		},
		topic{Name: "zone", In: func(d *place) **string { return &d.Zone }, Read: ask.ReadPlace, Show: ask.AsTyped,
			Given: func(c *engine.Talk) bool { return in(c, "IE") }},
		topic{Name: "me", In: func(d *place) **string { return &d.Me }, Read: ask.ReadPlace, Show: ask.AsTyped,
			Skip: func(c *engine.Talk) bool { return !in(c, "ES") }},
		ask.Topic[place, int]{Name: "lock", In: func(d *place) **int { return &d.Lock },
			Show: func(_ *engine.Talk, lock int) string { return []string{"key", "figures"}[lock] },
			Offer: func(*engine.Talk) []ask.Offer[int] {
				return []ask.Offer[int]{{Label: "With a key", Value: 0}, {Label: "With figures", Value: 1}}
			}},
	}
}

// settling has staff1 at the first topic.
func settling(t *testing.T) *floor.Floor {
	t.Helper()
	topics := laidDown()
	review := ask.Booking{
		Read: func(c *engine.Talk) []chat.Block {
			page, _ := topics.Page(c)
			return []chat.Block{page}
		},
		Other: ask.Changes(engine.GoBack("change")),
		Book:  func(c *engine.Talk) { c.Close(chat.Lines("saved")) },
	}.Screen()
	flow := floor.MadeUp("", topics.Screens(review))
	flow.Draft = func() any { return &place{} }
	flow.Start = topics.GoOn
	return begun(t, flow)
}

// Topics are asked in turn, typed or tapped, those that do not apply left out,
// and read back before anything is saved.
func TestTopicsInTurn(t *testing.T) {
	f := settling(t)
	expect(t, f.Out.String(), "What is your shop called?", "[Back]|Right?")
	expect(t, f.Says("staff1", "  Corner \t shop "), "In which country|[Ireland]|[Spain]|[Back]", "")
	expect(t, f.Says("staff1", "fr"), "Which city's clock", "your name")
	expect(t, f.Says("staff1", "Europe/Paris"), "kind of lock|[With a key]", "your name")
	expect(t, f.Taps("staff1", "With a key"), "Right?|[Confirm]|[Change]", "")
	for _, row := range []string{"Shop: Corner shop", "Country: land of FR", "Clock: Europe/Paris"} {
		expect(t, f.Out.String(), row, "Your name")
	}
	expect(t, f.Taps("staff1", "Confirm"), "saved", "")
}

// An answer that gives another one leaves that out; another country asks what
// else it needs.
func TestTopicsFollowFromAnswers(t *testing.T) {
	f := settling(t)
	f.Says("staff1", "Corner")
	expect(t, f.Says("staff1", "ireland"), "kind of lock", "clock")
	expect(t, f.Says("staff1", "back"), "In which country", "clock") // what was given is passed by
	expect(t, f.Taps("staff1", "Spain"), "What is your name?", "clock|kind of lock")
}

// What a topic cannot take says why; where nothing can be typed, to tap.
func TestTopicProblems(t *testing.T) {
	f := settling(t)
	expect(t, f.Says("staff1", strings.Repeat("x", 31)), "Please write 1 to 30 letters.|shop called", "country")
	f.Says("staff1", strings.Repeat("é", 30))
	expect(t, f.Says("staff1", "France"), "two letters, please|In which country", "")
	f.Taps("staff1", "Ireland")
	expect(t, f.Says("staff1", "something"), "Please tap one of the buttons.|kind of lock", "Right?")
	expect(t, f.Says("staff1", "with figures"), "Right?", "tap one")
}

// A doubtful answer is asked back before it is taken; it can be kept, changed, or
// another can be typed.
func TestTopicDoubt(t *testing.T) {
	asked := func() *floor.Floor {
		f := settling(t)
		f.Says("staff1", "Corner")
		expect(t, f.Says("staff1", "nz"), "so far away?|[It is right]|[Change]", "In which country|[Back]")
		return f
	}
	expect(t, asked().Taps("staff1", "It is right"), "Which city's clock", "far away")
	expect(t, asked().Taps("staff1", "Change"), "In which country", "far away")
	expect(t, asked().Says("staff1", "fr"), "Which city's clock", "far away")
	expect(t, asked().Says("staff1", "back"), "shop called", "far away")
	f := settling(t)
	f.Play("staff1: Corner\nstaff1: IE\nstaff1: [With a key]\nstaff1: [Change]\nstaff1: [Country]")
	f.Play("staff1: nz\nstaff1: [It is right]\nstaff1: [Change]")
	expect(t, f.Taps("staff1", "Country"), "In which country|[Keep land of NZ]", "far away")
	f = asked()
	f.Says("staff1", "back")
	expect(t, f.Says("staff1", "Corner"), "In which country", "far away")
}

// Back leads to the topic before, whose answer can be kept; from the first one
// nowhere.
func TestTopicBack(t *testing.T) {
	f := settling(t)
	f.Says("staff1", "A shop with a name that is long")
	f.Says("staff1", "A shop with a name that is lon")
	f.Says("staff1", "fr")
	expect(t, f.Says("staff1", "back"), "In which country|[Keep land of FR]", "")
	expect(t, f.Taps("staff1", "Back"), "shop called|[Keep A shop with a name that is lon]", "[Back]")
	expect(t, f.Chooses("staff1", "back"), "shop called", "country")
	expect(t, f.Taps("staff1", "Keep"), "Which city's clock", "")
	f.Says("staff1", "back")
	expect(t, f.Taps("staff1", "Ireland"), "kind of lock", "")
	f.Says("staff1", "back")
	if slices.Contains(f.Choices("staff1"), "same") {
		t.Error("an answer that is among those offered is offered twice")
	}
}

// Once all is answered each topic can be looked at again; back leads to where it
// was chosen.
func TestTopicChange(t *testing.T) {
	f := settling(t)
	f.Play("staff1: Corner\nstaff1: IE\nstaff1: [With a key]\nstaff1: [Change]")
	want := []string{"shop-name", "country", "zone", "lock", "back", "unfold"}
	if got := f.Choices("staff1"); !slices.Equal(got, want) {
		t.Errorf("offered %v", got)
	}
	expect(t, f.Taps("staff1", "Country"), "In which country", "")
	expect(t, f.Says("staff1", "back"), "What should change?", "")
	expect(t, f.Says("staff1", "back"), "Right?", "")
	f.Taps("staff1", "Change")
	f.Taps("staff1", "Country")
	expect(t, f.Taps("staff1", "Spain"), "What is your name?", "")
	expect(t, f.Says("staff1", "Dora"), "Right?", "")
	for _, row := range []string{"You: Dora", "Country: land of ES"} {
		expect(t, f.Out.String(), row, "")
	}
}

// Two topics stand in one row.
func TestTopicRows(t *testing.T) {
	f := settling(t)
	f.Play("staff1: Corner\nstaff1: IE\nstaff1: [With a key]")
	res := f.Does("staff1", chat.Input{Kind: chat.Text, Text: "change"})
	var rows []int
	for _, row := range res.Replies[0].Buttons {
		rows = append(rows, len(row))
	}
	if !slices.Equal(rows, []int{2, 2, 1, 1}) {
		t.Errorf("rows of %v", rows)
	}
}

// What was answered is read page by page, each leading to the next that has an answer on it; a
// page that is none is the first.
func TestTopicPages(t *testing.T) {
	type topic = ask.Topic[place, string]
	topics := ask.Topics[place]{
		topic{Name: "shop-name", In: func(d *place) **string { return &d.Shop }, Read: ask.ReadPlace,
			Show: ask.AsTyped},
		topic{Name: "country", On: "who", In: func(d *place) **string { return &d.Country }, Show: ask.AsTyped,
			Skip: func(*engine.Talk) bool { return true }},
		topic{Name: "zone", On: "where", In: func(d *place) **string { return &d.Zone }, Read: ask.ReadPlace,
			Show: ask.AsTyped},
		topic{Name: "me", On: "last", In: func(d *place) **string { return &d.Me }, Read: ask.ReadPlace,
			Show: ask.AsTyped},
	}
	var got []string
	review := ask.Booking{Book: func(c *engine.Talk) {}, Other: ask.Changes(engine.GoBack("change")),
		Read: func(c *engine.Talk) []chat.Block {
			for _, at := range append(topics.Pages(c), "who") {
				c.State.Draft.Read = at
				page, next := topics.Page(c)
				got = append(got, page.Text+", then "+next)
			}
			return []chat.Block{chat.Lines(strings.Join(got, "\n"))}
		}}.Screen()
	flow := floor.MadeUp("", topics.Screens(review))
	flow.Draft, flow.Start = func() any { return &place{} }, topics.GoOn
	begun(t, flow).Play("staff1: Corner; Dublin; Dora")
	want := []string{"Shop: Corner, then where", "Clock: Dublin, then last", "You: Dora, then ",
		"Shop: Corner, then where"}
	if !slices.Equal(got, want) {
		t.Errorf("read %q, want %q", got, want)
	}
}

// A name is one line of letters; too long a one is cut for a button only.
func TestNamesAndPlaces(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for in, want := range map[string]string{" a\n b\x00c ": "a b c", "é": "é"} {
		if got, problem := ask.ReadPlace(c, in); got != want || problem != "" {
			t.Errorf("%q is %q, %q", in, got, problem)
		}
	}
	for _, in := range []string{"", " ", "\n"} {
		if _, problem := ask.ReadPlace(c, in); problem != "Please write 1 to 30 letters." {
			t.Errorf("%q is taken: %q", in, problem)
		}
	}
	for in, want := range map[string]string{"ab": "ab", "abc": "abc", "abcd": "ab…", "éééé": "éé…"} {
		if got := texts.Short(in, 3); got != want {
			t.Errorf("%q is cut to %q", in, got)
		}
	}
	if got := ask.Clip(strings.Repeat("x", 31)); got != strings.Repeat("x", 29)+"…" {
		t.Errorf("cut to %q", got)
	}
	for in, want := range map[string]int{"0": 0, "2": 2, "02": 2, "3": -1, "": -1, "x": -1, "-1": -1, "1x": -1,
		"99999999999999999999": -1} {
		if i, ok := chat.Index(in, 3); ok != (want >= 0) || ok && i != want {
			t.Errorf("%q is %d %t", in, i, ok)
		}
	}
}
