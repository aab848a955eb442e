package chat

import "time"

// Bounds of what a shop's own words may be.
const (
	PhrasesMax  = 500                    // that have a meaning
	MissedMax   = 200                    // that were not understood
	MissedFor   = 8 * 7 * 24 * time.Hour // until one is forgotten that nobody types any more
	TaughtAfter = 3                      // times that one is typed before it can be given a meaning
)

// Missed is what people typed, in its plain form, that was not understood at once.
type Missed struct {
	Text  string
	Times int64
	Last  time.Time
}

// Phrase is what a shop's own words mean there: a reading by its name, like do:topup.
type Phrase struct{ Text, Means string }

// Phrases are the words of a shop's own.
type Phrases struct {
	Missed []Missed // the most frequent first
	Taught []Phrase // by their words
}
