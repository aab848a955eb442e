package desk_test

import (
	"context"
	"testing"
	"testing/synctest"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// A name that was erased is out of the log within seconds, however much goes on in
// the shop meanwhile; somebody who reads just then only puts it off.
func TestErasedLeavesTheLogSoon(t *testing.T) {
	const name = "Cleo"
	synctest.Test(t, func(t *testing.T) {
		o := newOffice(t)
		erase := func(st chat.State, in chat.Input, _ chat.Facts) chat.Result {
			res := chat.Result{State: st}
			if in.Text == "erase" {
				res.Erase = 3
			}
			return res
		}
		o.desk = desk.New(desk.Options{Store: o.db, Step: erase, Now: time.Now})
		ctx, stop := context.WithCancel(context.Background())
		ended := make(chan error, 1)
		go func() { ended <- o.desk.Run(ctx, &o.screen, desk.Pace{}) }()
		o.say(staff1, "busy")
		if !o.holds(name) {
			t.Fatal("the name never was in the file: this looks for the wrong thing")
		}
		o.say(owner, "erase")
		for range 12 { // never a quiet second
			o.say(staff1, "busy")
			time.Sleep(300 * time.Millisecond)
		}
		if o.holds(name) {
			t.Error("the name can still be read")
		}
		stop()
		ok(t, <-ended)
		ok(t, o.db.Close())
	})
}
