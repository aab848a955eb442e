package dayrule

import "sync"

// Memo keeps what was worked out once, a year of days for example. Its zero value
// is ready, and several goroutines may use it.
type Memo[K comparable, V any] struct {
	mu   sync.Mutex
	kept map[K]V
}

// Get gives what is kept under a key, and works it out the first time.
func (m *Memo[K, V]) Get(key K, work func() V) V {
	m.mu.Lock()
	defer m.mu.Unlock()
	v, ok := m.kept[key]
	if !ok {
		v = work()
		if m.kept == nil {
			m.kept = map[K]V{}
		}
		m.kept[key] = v
	}
	return v
}
