//go:build linux

package main

import (
	"context"
	"strings"
	"sync"
	"time"

	"shopfloat/internal/botapitest"
)

// firstOwner is the account of the first seeded shop's owner.
const firstOwner = 1_000_001

// opening is what a person does in an opening, and a part of the bot's answer
// in lower case. The first button whose label begins with what stands in square
// brackets is tapped.
func opening() [][2]string {
	return [][2]string{
		{"open", "top box"}, {"40", "middle box"}, {"150", "bottom box"}, {"200", "right?"},
		{"[Confirm]", "recorded, "}, {"[All done]", "how were"}, {"[]", "where are these"},
		{"[]", "did the machine"}, {"[]", "everything is done"},
	}
}

// crowd is the people of all shops.
type crowd struct {
	server *botapitest.Server
	script [][2]string
	think  time.Duration // before each answer
	done   chan struct{}

	mu     sync.Mutex
	people map[int64]*person
	next   int // shops that have begun
	over   int // shops that are done
	shops  int
	waits  []time.Duration // of every answer
	last   time.Time       // newest answer
}

type person struct {
	step int
	sent time.Time
}

func newCrowd(shops int, think time.Duration) *crowd {
	return &crowd{shops: shops, think: think, script: opening(), people: map[int64]*person{},
		done: make(chan struct{})}
}

// begin lets so many shops open at once.
func (c *crowd) begin(atOnce int) {
	for range atOnce {
		c.mu.Lock()
		id := c.newcomer()
		c.mu.Unlock()
		c.server.SendText(id, c.script[0][0])
	}
}

// newcomer begins at the next shop; 0 when all have begun.
func (c *crowd) newcomer() int64 {
	if c.next == c.shops {
		return 0
	}
	id := int64(firstOwner + c.next)
	c.next++
	c.people[id] = &person{sent: time.Now()}
	return id
}

// effect is what a person sees; they answer at once, or once they have thought.
func (c *crowd) effect(e botapitest.Effect) {
	if e.Method == "answerCallbackQuery" {
		return
	}
	c.mu.Lock()
	p := c.people[e.Chat]
	if p == nil || !strings.Contains(strings.ToLower(e.Message.Text), c.script[p.step][1]) {
		c.mu.Unlock()
		return
	}
	now := time.Now()
	c.waits = append(c.waits, now.Sub(p.sent))
	c.last = now
	id := e.Chat
	if p.step++; p.step == len(c.script) {
		delete(c.people, id)
		if c.over++; c.over == c.shops {
			close(c.done)
		}
		id = c.newcomer()
		p = c.people[id]
	} else {
		p.sent = now
	}
	c.mu.Unlock()
	switch {
	case p == nil:
	case c.think == 0:
		c.act(id, c.script[p.step][0], e.Message)
	default:
		time.AfterFunc(c.think, func() {
			c.mu.Lock()
			p.sent = time.Now()
			c.mu.Unlock()
			c.act(id, c.script[p.step][0], e.Message)
		})
	}
}

// act does a step of the script.
func (c *crowd) act(id int64, what string, card botapitest.Message) {
	label, tap := strings.CutPrefix(what, "[")
	if !tap {
		c.server.SendText(id, what)
		return
	}
	for _, row := range card.Buttons {
		for _, b := range row {
			if strings.HasPrefix(b.Text, strings.TrimSuffix(label, "]")) {
				c.server.TapData(id, id, card.ID, b.Data)
				return
			}
		}
	}
}

// wait returns when all shops are open.
func (c *crowd) wait(ctx context.Context) error {
	look := time.NewTicker(time.Second)
	defer look.Stop()
	for {
		select {
		case <-c.done:
			return nil
		case <-ctx.Done():
			return ctx.Err()
		case now := <-look.C:
			c.mu.Lock()
			stalled := !c.last.IsZero() && now.Sub(c.last) > time.Minute
			c.mu.Unlock()
			if stalled {
				return errStalled
			}
		}
	}
}
