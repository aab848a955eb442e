package desk

import (
	"context"
	"time"
)

// Prune has old rows go at once.
func (d *Desk) Prune() error { return d.submit(context.Background(), &job{prune: true}) }

// Waiting tells how many callers wait for a commit.
func (d *Desk) Waiting() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.jobs)
}

// LookEvery has Run look at the file seldom: within days that go by in a moment a look each second is all
// there is to do.
func (d *Desk) LookEvery(pause time.Duration) { d.look = pause }
