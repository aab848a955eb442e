package dialogs_test

import (
	"testing"

	"shopfloat/internal/chat"
)

func TestParseTap(t *testing.T) {
	for data, want := range map[string]chat.Tapped{
		"d:7:confirm":                         {Dialog: true, Rev: 7, Choice: "confirm"},
		"o:ticks:12.done":                     {Choice: "ticks", Arg: "12.done"},
		"o:ticks:12.done:3":                   {Choice: "ticks", Arg: "12.done", Machine: 3},
		"d:7:confirm:3":                       {},
		"o:ticks:12.done:0":                   {},
		"o:ticks:12.done:03":                  {},
		"o:ticks:12.done:-3":                  {},
		"o:ticks:12.done:3:4":                 {},
		"d:07:confirm":                        {},
		"d:0:confirm":                         {},
		"x:1:y":                               {},
		"o::x":                                {},
		"o:Ticks:1":                           {},
		"d:1:":                                {},
		"":                                    {},
		"o:ticks:" + string(make([]byte, 80)): {},
	} {
		got, ok := chat.ParseTap(data)
		if got != want || ok != (want != chat.Tapped{}) {
			t.Errorf("%q: %+v %v, want %+v", data, got, ok, want)
		}
	}
}

func FuzzParseTap(f *testing.F) {
	f.Add("d:7:confirm")
	f.Add("o:ticks:12.done:3")
	f.Add("o:::1")
	f.Fuzz(func(t *testing.T, data string) {
		got, ok := chat.ParseTap(data)
		if !ok && got != (chat.Tapped{}) || ok && got.Dialog && got.Rev <= 0 || ok && got.Machine < 0 ||
			ok && len(data) > 64 {
			t.Errorf("%q: %+v %v", data, got, ok)
		}
	})
}
