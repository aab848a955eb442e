package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// attemptsMax is how often an input is tried before it is parked.
const attemptsMax = 3

// batch is one transaction in the making.
type batch struct {
	desk     *Desk
	tx       *store.Tx
	blocked  map[chat.Chat]bool // an input failed: later ones of that chat wait
	plain    bool               // without savepoints: an error takes the whole batch back
	messages []store.Message
	dropped  []drop
	heard    []hearing
	records  int
	cut      []chat.Chat // phones that the step under way cut off
	erased   bool        // what was in the file before must not be read there any more
}

// drop says that nothing goes out to a chat of what waited for it, and of this
// batch nothing before the message of that number.
type drop struct {
	chat   chat.Chat
	before int
}

// live are the messages of a batch that are to be sent.
func (b *batch) live() []store.Message {
	var list []store.Message
	for i, m := range b.messages {
		if !slices.ContainsFunc(b.dropped, func(d drop) bool { return d.chat == m.Chat && i < d.before }) {
			list = append(list, m)
		}
	}
	return list
}

// takeBack forgets what a step that failed wanted to send and drop.
func (b *batch) takeBack(messages, dropped int) {
	b.messages, b.dropped = b.messages[:messages], b.dropped[:dropped]
}

// owner is the job that waits for the notice of an inbox row.
type owner struct {
	job *job
	key string
}

// item is one arrival and what is to be done about it.
type item struct {
	store.Arrival
	store.Work
	deadline *store.Deadline
	owner    owner
	guarded  bool // nothing in it must stay out of the file any more
}

// errAgain says that an input of a batch failed, so that the batch is to be
// taken again with every input by itself.
var errAgain = errors.New("an input failed; the batch is taken again")

// handle takes jobs in one commit: the inbox rows and all that follows from
// them. Inputs hardly ever fail, and a savepoint around each costs a tenth of
// all time; so it goes without at first, and once more with them when one fails.
func (d *Desk) handle(jobs []*job, owners map[int64]owner) error {
	err := d.handleAll(jobs, owners, true)
	if errors.Is(err, errAgain) {
		clear(owners)
		err = d.handleAll(jobs, owners, false)
	}
	return err
}

func (d *Desk) handleAll(jobs []*job, owners map[int64]owner, plain bool) error {
	waits := false
	for _, j := range jobs {
		j.notices = nil
	}
	err := d.transact(func(b *batch) error {
		b.plain = plain
		items, err := b.items(jobs)
		b.messages = make([]store.Message, 0, len(items)) // nearly every input is answered
		for i := 0; err == nil && i < len(items); i++ {
			var w bool
			w, err = b.handle(&items[i], owners)
			waits = waits || w
		}
		return err
	})
	d.backlog = d.backlog || waits && err == nil
	return err
}

// accept stores what jobs bring and leaves the handling to catchUp.
func (d *Desk) accept(jobs []*job, owners map[int64]owner) error {
	for _, j := range jobs {
		j.notices = nil
	}
	err := d.transact(func(b *batch) error {
		items, err := b.items(jobs)
		for i := 0; err == nil && i < len(items); i++ {
			err = b.keep(&items[i], 0, owners)
		}
		return err
	})
	d.backlog = d.backlog || err == nil
	return err
}

// items lists what jobs bring, in order: deadlines that are due come first.
func (b *batch) items(jobs []*job) ([]item, error) {
	tick, raws := false, 0
	for _, j := range jobs {
		tick, raws = tick || j.tick, raws+len(j.raws)
	}
	items := make([]item, 0, raws)
	if tick || raws > 0 {
		if err := b.planAgain(); err != nil {
			return nil, err
		}
	}
	if tick {
		if err := b.desk.watch.Sweep(b.tx, b.desk.log); err != nil {
			return nil, err
		}
		due, err := b.tx.Due()
		if err != nil {
			return nil, err
		}
		for i := range due {
			items = append(items, b.reminder(&due[i]))
		}
	}
	for _, j := range jobs {
		for i := range j.raws {
			items = append(items, b.item(j, &j.raws[i]))
		}
	}
	return items, nil
}

// clockSlack is how far a clock may be set back without anything being planned again.
const clockSlack = time.Minute

// planAgain has all deadlines planned anew when the clock has gone back: what
// came due meanwhile is gone, though its time is still to come. It does so before
// anything is kept under the earlier time: after a restart that would be the latest.
func (b *batch) planAgain() error {
	d, now := b.desk, b.tx.Now()
	back := now.Add(clockSlack).Before(d.latest)
	d.latest = now
	if !back {
		return nil
	}
	d.log.Info("the clock went back; reminders are planned again")
	return b.tx.DueEverywhere(chat.PlanAgain)
}

// item is what came in, as it came.
func (b *batch) item(j *job, r *Raw) item {
	it := item{owner: owner{j, r.Key}}
	it.Source, it.Key, it.Machine = r.Source, r.Key, r.Machine
	if r.Input.Chat != "" {
		it.Input, it.Chat, it.Hash = r.Input, r.Input.Chat, r.Hash[:]
	}
	return it
}

// reduce takes what came from a stranger down to its key and the time.
func (it *item) reduce() {
	it.Chat, it.Hash = "", nil
	if it.Input.Kind != chat.Opened && it.Input.Kind != chat.Fate {
		it.Input = chat.Input{Chat: it.Input.Chat, Kind: chat.Foreign, At: it.Input.At}
	}
}

// reminder makes a due deadline an input. Its key holds the instant, so that
// it happens once for each time it was planned.
func (b *batch) reminder(d *store.Deadline) item {
	where := chat.MachineChat(d.Machine)
	it := item{deadline: d}
	it.Source = "deadline"
	it.Key = fmt.Sprintf("%d %s %s", d.Machine, strconv.FormatInt(d.Due.UnixMilli(), 10), d.Name)
	it.Chat, it.Machine = where, d.Machine
	it.Input = chat.Input{Chat: where, Kind: chat.Remind, Text: d.Name, At: b.tx.Now(), Due: d.Due}
	return it
}

// handle does everything about an arrival, or nothing and keeps it for later.
// waits says that it is kept.
func (b *batch) handle(it *item, owners map[int64]owner) (waits bool, err error) {
	if it.Input.Chat == "" {
		return false, b.keep(it, 0, owners)
	}
	if b.blocked[it.Input.Chat] {
		return true, b.keep(it, 0, owners)
	}
	had, dropped := len(b.messages), len(b.dropped)
	if b.plain {
		if err = b.tx.Plainly(func() error { return b.take(it) }); err != nil && !errors.Is(err, store.ErrLost) {
			err = errors.Join(errAgain, err)
		}
		return false, err
	}
	err = b.tx.Try(func() error { return b.take(it) })
	switch {
	case err == nil:
		return false, nil
	case errors.Is(err, store.ErrLost):
		return false, err
	}
	b.takeBack(had, dropped)
	b.block(it.Input.Chat)
	b.desk.logFailure(err, it.Source, 1)
	return true, b.keep(it, 1, owners)
}

func (b *batch) block(where chat.Chat) {
	if b.blocked == nil {
		b.blocked = map[chat.Chat]bool{}
	}
	b.blocked[where] = true
}

// take is the inbox row of an arrival and all that follows from it.
func (b *batch) take(it *item) error {
	if err := b.guard(it, false); err != nil {
		return err
	}
	if it.deadline != nil {
		if err := b.tx.Fired(*it.deadline); err != nil {
			return err
		}
	}
	id, fresh, err := b.tx.Handled(it.Arrival)
	if err != nil {
		return err
	}
	if !fresh {
		return b.again(it)
	}
	notice, err := b.follow(id, it.Work)
	if err == nil && notice != "" && it.owner.job != nil {
		it.owner.job.notices = append(it.owner.job.notices, Notice{it.owner.key, notice})
	}
	return err
}

// again looks at an arrival that has been here before: the same under the same
// key is nothing new, anything else is reported and not taken. A deadline that
// came due once more since the clock went back still leads on to the next one.
func (b *batch) again(it *item) error {
	if it.deadline != nil {
		w := it.Work
		w.Input.Again = true
		return b.spared(func() error { _, err := b.follow(0, w); return err })
	}
	if _, err := b.tx.Known(it.Arrival); err != nil {
		b.desk.log.Error("refused", "err", err)
	}
	return nil
}

// spared does what may fail without anything being done about it.
func (b *batch) spared(fn func() error) error {
	had, dropped := len(b.messages), len(b.dropped)
	err := b.tx.Try(fn)
	if err == nil || errors.Is(err, store.ErrLost) {
		return err
	}
	b.takeBack(had, dropped)
	b.desk.logFailure(err, "deadline", 1)
	return nil
}

// keep puts an arrival into the inbox for later.
func (b *batch) keep(it *item, attempts int, owners map[int64]owner) error {
	if it.deadline != nil {
		if err := b.tx.Fired(*it.deadline); err != nil {
			return err
		}
	}
	if it.Input.Chat == "" {
		return b.tx.Park(it.Arrival)
	}
	if err := b.guard(it, true); err != nil {
		return err
	}
	id, fresh, err := b.tx.Wait(it.Arrival, it.Work, attempts)
	if err != nil {
		return err
	}
	if !fresh {
		return b.again(it)
	}
	if it.owner.job != nil {
		owners[id] = it.owner
	}
	return nil
}
