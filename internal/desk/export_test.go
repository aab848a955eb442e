package desk

// Waiting tells how many callers wait for a commit.
func (d *Desk) Waiting() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.jobs)
}
