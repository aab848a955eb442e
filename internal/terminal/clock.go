package terminal

import (
	"sync"
	"time"
)

// Clock stands until it is set. It may be read by several goroutines.
type Clock struct {
	mu  sync.Mutex
	now time.Time
}

// Now gives what the clock was set to last.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

// Set sets the clock; it may go back.
func (c *Clock) Set(t time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = t
}
