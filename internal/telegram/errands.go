package telegram

import (
	"context"
	"log/slog"
	"sync"
	"time"

	"github.com/go-telegram/bot"
)

// Bounds of what is done on the side.
const (
	errandsMax  = 1024 // waiting
	errandCrew  = 16   // under way
	errandLife  = 15 * time.Second
	groupsMax   = 1000 // remembered
	groupSilent = 24 * time.Hour
)

// errand is a call whose loss does no harm.
type errand struct {
	method string
	params any
}

// errands makes calls on the side: a tap must be answered within seconds, long
// before what it led to is delivered.
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
func (e *errands) answer(query, notice string) {
	notice, _ = clip(notice, noticeMax)
	e.put(errand{"answerCallbackQuery", bot.AnswerCallbackQueryParams{CallbackQueryID: query, Text: notice}})
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

func (e *errands) put(job errand) {
	select {
	case e.queue <- job:
	default:
		e.log.Debug("too much at once; a call was left out", "method", job.method)
	}
}

// run works until ctx is done.
func (e *errands) run(ctx context.Context) {
	var crew sync.WaitGroup
	for range errandCrew {
		crew.Go(func() {
			for {
				select {
				case <-ctx.Done():
					return
				case job := <-e.queue:
					e.do(ctx, job)
				}
			}
		})
	}
	crew.Wait()
}

func (e *errands) do(ctx context.Context, job errand) {
	ctx, cancel := context.WithTimeout(ctx, errandLife)
	defer cancel()
	if _, err := e.client.call(ctx, job.method, job.params); err != nil {
		e.log.Debug("a call on the side failed", "why", err)
	}
}
