package dayfile

import (
	"strconv"
	"strings"
)

// named is the name of the field at path, or of the file at the top.
func named(path string) string {
	if path == "" {
		return whole
	}
	return path
}

func join(path, key string) string {
	key = plain(key)
	if path == "" {
		return key
	}
	return path + "." + key
}

func index(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// plain shows a key as it stands where that is harmless, else quoted, so that an
// error stays one readable line whatever the file holds.
func plain(key string) string {
	harmless := func(r rune) bool {
		return r == '_' || r == '.' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
	}
	odd := strings.ContainsFunc(key, func(r rune) bool { return !harmless(r) })
	if key == "" || odd || len(key) > shownMax {
		return quoted(key)
	}
	return key
}

// shownMax is how many characters of foreign text an error shows.
const shownMax = 40

func quoted(text string) string {
	runes := []rune(text)
	if len(runes) > shownMax {
		text = string(runes[:shownMax]) + "…"
	}
	return strconv.QuoteToGraphic(text)
}
