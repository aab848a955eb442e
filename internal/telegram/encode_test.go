package telegram_test

import (
	"fmt"
	"html"
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/telegram"
)

func TestEncodeText(t *testing.T) {
	body := []chat.Block{
		{Text: "Opening: please check <now> & \"here\""},
		{Text: "50s   40 notes   €2,000\n20s  150 notes   €3,000", Fixed: true},
		{Text: "Right?"},
	}
	m := telegram.Encode(chat.Reply{Body: body, Silent: true})
	want := "Opening: please check &lt;now&gt; &amp; &#34;here&#34;\n" +
		"<pre>50s   40 notes   €2,000\n20s  150 notes   €3,000</pre>\nRight?"
	if m.Text != want || !m.HTML || !m.Silent || m.Keyboard != nil {
		t.Errorf("got %+v", m)
	}
	plain := telegram.EncodePlain(chat.Reply{Body: body})
	if !strings.HasPrefix(plain.Text, "Opening: please check <now> & \"here\"\n50s   40") || plain.HTML {
		t.Errorf("got %+v", plain)
	}
}

func TestEncodeCutsLongTexts(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"fits":           {strings.Repeat("a", 4096), strings.Repeat("a", 4096)},
		"one too many":   {strings.Repeat("a", 4097), strings.Repeat("a", 4095) + "…"},
		"two-unit signs": {strings.Repeat("😀", 2049), strings.Repeat("😀", 2047) + "…"},
		"no letters":     {"a\xffb", "a\uFFFDb"},
	} {
		m := telegram.EncodePlain(chat.Reply{Body: []chat.Block{{Text: c.text}}})
		if m.Text != c.want {
			t.Errorf("%s: got %d bytes %.20q", name, len(m.Text), m.Text)
		}
	}
}

// Every text stays within 4096 UTF-16 units after the markup is parsed away
// (Bot API 10.1, sendMessage), and is well-formed markup.
func TestEncodeNeverTooLong(t *testing.T) {
	checks.Rapid(t, 300, 5_000, 200_000, func(t *rapid.T) {
		var body []chat.Block
		for range rapid.IntRange(0, 4).Draw(t, "blocks") {
			text := rapid.StringOfN(rapid.RuneFrom([]rune("a<&\n€😀")), 0, 40, -1).Draw(t, "text")
			text = strings.Repeat(text, rapid.IntRange(1, 120).Draw(t, "times"))
			body = append(body, chat.Block{Text: text, Fixed: rapid.Bool().Draw(t, "fixed")})
		}
		m := telegram.Encode(chat.Reply{Body: body})
		bare := strings.NewReplacer("<pre>", "", "</pre>", "").Replace(m.Text)
		if strings.ContainsAny(bare, "<>") || strings.Count(m.Text, "<pre>") != strings.Count(m.Text, "</pre>") {
			t.Fatalf("markup left over in %q", m.Text)
		}
		plain := html.UnescapeString(bare)
		if n := len(utf16.Encode([]rune(plain))); n > 4096 {
			t.Fatalf("%d units", n)
		}
		if plain != telegram.EncodePlain(chat.Reply{Body: body}).Text {
			t.Fatal("the plain text differs")
		}
	})
}

func TestEncodeButtons(t *testing.T) {
	b := func(labels ...string) (row []chat.Button) {
		for i, l := range labels {
			row = append(row, chat.Button{Label: l, Data: fmt.Sprintf("o.3.%d", i)})
		}
		return row
	}
	for name, c := range map[string]struct {
		rows [][]chat.Button
		want string
	}{
		"none":     {nil, ""},
		"short":    {[][]chat.Button{b("Confirm", "Change", "Cancel")}, "Confirm|Change|Cancel"},
		"rows":     {[][]chat.Button{b("Yes", "No"), b("What is this?")}, "Yes|No / What is this?"},
		"long":     {[][]chat.Button{b("All done", "Something is wrong")}, "All done / Something is wrong"},
		"many":     {[][]chat.Button{b("1", "2", "3", "4")}, "1 / 2 / 3 / 4"},
		"no label": {[][]chat.Button{b("Yes", "")}, "Yes"},
		"payloads": {[][]chat.Button{{
			{Label: "64", Data: strings.Repeat("x", 64)}, {Label: "65", Data: strings.Repeat("x", 65)}, {Label: "0"},
			{Label: "66", Data: strings.Repeat("é", 33)}}}, "64"},
	} {
		t.Run(name, func(t *testing.T) {
			var rows []string
			if k := telegram.Encode(chat.Reply{Buttons: c.rows}).Keyboard; k != nil {
				for _, row := range k.InlineKeyboard {
					var labels []string
					for _, b := range row {
						labels = append(labels, b.Text)
					}
					rows = append(rows, strings.Join(labels, "|"))
				}
			}
			if got := strings.Join(rows, " / "); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
	m := telegram.Encode(chat.Reply{Buttons: [][]chat.Button{b("Yes")}})
	if data := m.Keyboard.InlineKeyboard[0][0].CallbackData; data != "o.3.0" {
		t.Errorf("the payload changed to %q", data)
	}
}
