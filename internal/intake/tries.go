package intake

import "time"

// Every is how often it is looked whether something waits to be fetched.
const Every = 2 * time.Second

// Pause is the longest between two tries for one thing.
const Pause = 10 * time.Minute

// Tries remembers what did not come, until the program ends.
type Tries[T comparable] map[T]try

type try struct {
	wait time.Duration // twice the last one, see Pause
	next time.Time
}

// Ready reports whether it is time to try a thing.
func (t Tries[T]) Ready(x T, now time.Time) bool { return !now.Before(t[x].next) }

// Failed gives how long to wait before the next try.
func (t Tries[T]) Failed(x T, now time.Time) time.Duration {
	wait := min(max(2*t[x].wait, Every), Pause)
	t[x] = try{wait: wait, next: now.Add(wait)}
	return wait
}
