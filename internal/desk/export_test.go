package desk

import "context"

// Prune has old rows go at once.
func (d *Desk) Prune() error { return d.submit(context.Background(), &job{prune: true}) }

// Waiting tells how many callers wait for a commit.
func (d *Desk) Waiting() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.jobs)
}
