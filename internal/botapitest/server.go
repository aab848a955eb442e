package botapitest

import (
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// DefaultToken is the bot token of a server whose options name none. Its number part is the bot's user id.
const DefaultToken = "4200001:STANDIN-token_for_tests_only_000000"

// Options are the settings of a [Server]. The zero value is usable.
type Options struct {
	// Token is the only token served; empty means [DefaultToken].
	Token string
	// Username is the bot's @name without the @; empty means "standin_bot".
	Username string
	// Addr is where Start listens; empty means a free port of 127.0.0.1.
	Addr string
	// Clock gives the time for dates, retention and expiry; nil means a fixed instant, see [Server.SetNow].
	Clock func() time.Time
	// RateClock gives the time for the counts of too fast sends in [Report]; nil means they are not counted.
	RateClock func() time.Time
	// After gives the timer of a waiting long poll; nil means time.After.
	After func(time.Duration) <-chan time.Time
	// AnswerWindow is how long a callback query can be answered; 0 means 15 s (from memory, undocumented).
	AnswerWindow time.Duration
	// KeepMessages bounds messages, answers and earlier versions kept per chat; 0 means no bound.
	KeepMessages int
	// FirstUpdateID is the id of the first update; 0 means 500000001.
	FirstUpdateID int64
	// OnEffect is called after each call that changed a chat, without any lock held, before the caller gets
	// the answer. It may call the server, for instance to let the person answer at once.
	OnEffect func(Effect)
}

// Effect is one change the bot made to a chat.
type Effect struct {
	Method  string  // method name as the reference spells it
	Chat    int64   // chat changed
	Message Message // the message after the change; only ID for a deletion; empty for a callback answer
	Answer  Answer  // set for answerCallbackQuery only
}

// Server is the stand-in. It is an http.Handler and safe for use by several goroutines.
type Server struct {
	opts   Options
	token  string
	secret string // part of the token after the colon
	botID  int64
	me     []byte             // the bot as a JSON user
	byName map[string]*method // by lower-case name

	mu        sync.Mutex
	changed   *sync.Cond
	now       func() time.Time
	revoked   bool
	users     map[int64]*user
	chats     map[int64]*chat
	files     map[string]*file
	queue     queue
	poll      *poll
	lastPoll  lastPoll
	webhook   string
	callbacks map[string]callback
	commands  map[string][]byte
	faults    []*Fault
	report    Report
	queries   int64 // callback queries made so far

	pool sync.Pool
	web  *http.Server
	addr string
	done chan struct{}
	once sync.Once
}

// New makes a server; it serves as an http.Handler at once and over TCP after [Server.Start].
func New(opts Options) *Server {
	s := &Server{
		opts: withDefaults(opts), done: make(chan struct{}),
		users: map[int64]*user{}, chats: map[int64]*chat{}, files: map[string]*file{},
		callbacks: map[string]callback{}, commands: map[string][]byte{},
	}
	s.changed = sync.NewCond(&s.mu)
	s.pool.New = func() any { return &call{srv: s} }
	s.now = s.opts.Clock
	s.token = s.opts.Token
	number, secret, _ := strings.Cut(s.token, ":")
	s.secret = secret
	s.botID, _ = strconv.ParseInt(number, 10, 64)
	s.queue.next = s.opts.FirstUpdateID
	s.byName = methodsByName()
	s.me = appendUser(nil, &user{id: s.botID, name: "Stand-in", username: s.opts.Username, bot: true})
	return s
}

func withDefaults(o Options) Options {
	if o.Token == "" {
		o.Token = DefaultToken
	}
	if o.Username == "" {
		o.Username = "standin_bot"
	}
	if o.Addr == "" {
		o.Addr = "127.0.0.1:0"
	}
	if o.Clock == nil {
		o.Clock = fixed(time.Date(2026, 1, 5, 8, 0, 0, 0, time.UTC))
	}
	if o.After == nil {
		o.After = time.After
	}
	if o.AnswerWindow == 0 {
		o.AnswerWindow = 15 * time.Second
	}
	if o.FirstUpdateID == 0 {
		o.FirstUpdateID = 500_000_001
	}
	return o
}

func fixed(t time.Time) func() time.Time { return func() time.Time { return t } }

// Start listens on [Options.Addr] and serves until [Server.Close].
func (s *Server) Start() error {
	ln, err := net.Listen("tcp", s.opts.Addr)
	if err != nil {
		return fmt.Errorf("stand-in: %w", err)
	}
	s.addr = ln.Addr().String()
	s.web = &http.Server{Handler: s, ErrorLog: log.New(io.Discard, "", 0), ReadHeaderTimeout: time.Minute}
	go func() { _ = s.web.Serve(ln) }() // always ends with ErrServerClosed
	return nil
}

// Close ends waiting polls and closes every connection.
func (s *Server) Close() {
	s.once.Do(func() {
		close(s.done)
		s.nudge()
		if s.web != nil {
			_ = s.web.Close() // nothing to do about a listener that is gone already
		}
	})
}

// URL is the base address, such as http://127.0.0.1:40001, after Start.
func (s *Server) URL() string { return "http://" + s.addr }

// Token is the token the server accepts.
func (s *Server) Token() string { return s.token }

// BotID is the bot's user id, the number in front of the token's colon.
func (s *Server) BotID() int64 { return s.botID }

// SetNow sets the clock to t, where it stays until set again.
func (s *Server) SetNow(t time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.now = fixed(t)
	s.changed.Broadcast()
}

// Now is the server's time.
func (s *Server) Now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now()
}

// RevokeToken makes every later call fail with 401 Unauthorized.
func (s *Server) RevokeToken() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.revoked = true
}
