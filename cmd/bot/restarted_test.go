package main

import (
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/checks"
)

// TestChatsRestarted stops and starts the bot after every third line of every
// script, or of some of them. Nothing may be lost or said twice by that: the conversation is the same
// as in the transcript.
func TestChatsRestarted(t *testing.T) {
	if testing.Short() {
		t.Skip("opens the file a few hundred times")
	}
	all := chats(t)
	some := min(len(all), checks.Size(t, 4, 1_000, 1_000))
	for i := range some { // spread over all of them
		file := all[i*len(all)/some]
		if isBroken(file) {
			continue // the number of the broken line is another
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			want := withoutWords(read(t, strings.TrimSuffix(file, ".txt")+".golden"))
			if got := withoutWords(play(t, file, restarted(read(t, file)))); got != want {
				t.Errorf("restarts change the conversation:\n%s", difference(want, got))
			}
		})
	}
}

func restarted(script string) string {
	var often strings.Builder
	for i, line := range strings.Split(strings.TrimSpace(script), "\n") {
		often.WriteString(line + "\n")
		if i%3 == 2 {
			often.WriteString("@restart\n")
		}
	}
	return often.String()
}
