package telegram

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"github.com/go-telegram/bot"
)

// Bounds of what is done on the side.
const (
	errandsMax  = 1024 // waiting; whoever brings one more waits for room
	errandCrew  = 48   // under way: as many as messages, since most taps have one of each
	errandLife  = 15 * time.Second
	errandPause = 500 * time.Millisecond // before a call is tried again
	errandEnd   = 3 * time.Second        // for what waits when the program is to end
	groupsMax   = 1000                   // remembered
	groupSilent = 24 * time.Hour
)

// errand is a call on the side.
type errand struct {
	method string
	params any
}

// errands makes calls on the side: a tap must be answered within seconds, long
// before what it led to is delivered. Until it is, the button shows a sign of
// waiting; so no answer is left out, however many there are: rather does the
// next poll wait.
type errands struct {
	client *client
	log    *slog.Logger
	queue  chan errand
	text   string // for groups
	told   map[int64]time.Time
}

func newErrands(c *client, text string, log *slog.Logger) *errands {
	return &errands{
		client: c, log: log, text: text,
		queue: make(chan errand, errandsMax), told: map[int64]time.Time{},
	}
}

// answer ends the sign of waiting on a tapped button, with a short notice or none.
func (e *errands) answer(ctx context.Context, query, notice string) {
	notice, _ = clip(notice, noticeMax)
	job := errand{"answerCallbackQuery", bot.AnswerCallbackQueryParams{CallbackQueryID: query, Text: notice}}
	select {
	case e.queue <- job:
	case <-ctx.Done():
	}
}

// privateOnly tells a group, once a day at most, that the bot talks in private only.
func (e *errands) privateOnly(group int64, now time.Time) {
	if last, ok := e.told[group]; ok && now.Sub(last) < groupSilent {
		return
	}
	if len(e.told) >= groupsMax {
		clear(e.told)
	}
	e.told[group] = now
	e.put(errand{"sendMessage", bot.SendMessageParams{ChatID: group, Text: e.text}})
}

// put leaves a call out when there are too many: its loss does no harm.
func (e *errands) put(job errand) {
	select {
	case e.queue <- job:
	default:
		e.log.Debug("too much at once; a call was left out", "method", job.method)
	}
}

// run works until ctx is done, and a little longer on what waits by then.
func (e *errands) run(ctx context.Context) {
	last, cancel := context.WithCancel(context.WithoutCancel(ctx))
	defer cancel()
	defer context.AfterFunc(ctx, func() { time.AfterFunc(errandEnd, cancel) })()
	var crew sync.WaitGroup
	for range errandCrew {
		crew.Go(func() {
			for {
				select {
				case job := <-e.queue:
					e.do(last, job)
				case <-ctx.Done():
					e.finish(last)
					return
				}
			}
		})
	}
	crew.Wait()
}

// finish works on what waits and for nothing else.
func (e *errands) finish(ctx context.Context) {
	for {
		select {
		case job := <-e.queue:
			e.do(ctx, job)
		default:
			return
		}
	}
}

// do makes a call, and again while the network or the server is at fault.
func (e *errands) do(ctx context.Context, job errand) {
	ctx, cancel := context.WithTimeout(ctx, errandLife)
	defer cancel()
	for pause := errandPause; ; pause *= 2 {
		_, err := e.client.call(ctx, job.method, job.params)
		var r *refusal
		switch refused := errors.As(err, &r); {
		case err == nil:
			return
		case refused && r.Status == http.StatusTooManyRequests:
			pause = r.RetryAfter
		case refused && r.Status < http.StatusInternalServerError, ctx.Err() != nil:
			e.log.Debug("a call on the side failed", "why", err)
			return
		}
		if sleep(ctx, pause) != nil {
			e.log.Debug("a call on the side was given up", "why", err)
			return
		}
	}
}
