package telegram_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/telegram"
)

func TestFetch(t *testing.T) {
	at := func(size int) answer {
		const file = `{"ok":true,"result":{"file_id":"f","file_size":%d,"file_path":"p/1.jpg"}}`
		return answer{body: fmt.Sprintf(file, size)}
	}
	long := answer{body: strings.Repeat("x", telegram.PhotoMax+1)}
	file := func(a answer) []answer { return []answer{a} }
	for name, c := range map[string]struct {
		get, file answer
		want      string
		final     bool // trying again is no use
		err       bool
	}{
		"ok":            {get: at(4), file: answer{body: "slip"}, want: "slip"},
		"unknown":       {get: refuse(400, "Bad Request: invalid file_id"), err: true, final: true},
		"too big":       {get: at(telegram.PhotoMax + 1), err: true, final: true},
		"size is a lie": {get: at(4), file: long, err: true, final: true},
		"no server":     {get: answer{cut: true}, err: true},
		"cut":           {get: at(4), file: answer{cut: true}, err: true},
		"gone by then":  {get: at(4), file: answer{status: 404, body: "x"}, err: true, final: true},
		"busy":          {get: at(4), file: answer{status: 503, body: "x"}, err: true},
	} {
		t.Run(name, func(t *testing.T) {
			f := newFixture(t, map[string][]answer{"getFile": file(c.get), "1.jpg": file(c.file)})
			got, err := f.bot.Fetch(t.Context(), "f")
			if string(got) != c.want || (err != nil) != c.err || errors.Is(err, telegram.ErrPhoto) != c.final {
				t.Errorf("got %.20q, %v", got, err)
			}
			if err != nil && strings.Contains(err.Error(), "SECRET") {
				t.Errorf("the token is in %v", err)
			}
		})
	}
}
