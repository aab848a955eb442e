package botapitest

import (
	"context"
	"net/http"
	"strconv"
	"strings"
)

// call is one request to a method: its parameters on the way in, its result on the way out. Calls are pooled.
type call struct {
	srv     *Server
	ctx     context.Context
	method  *method
	body    []byte // backs the parameter values
	params  []param
	parts   []part
	chatID  int64 // chat_id as a number, 0 if absent or not one
	out     []byte
	answer  []byte
	effects []Effect
}

func (c *call) reset(ctx context.Context) {
	c.ctx, c.method, c.chatID, c.parts = ctx, nil, 0, nil
	c.body, c.params, c.out, c.answer = c.body[:0], c.params[:0], c.out[:0], c.answer[:0]
	c.effects = c.effects[:0]
}

// ServeHTTP answers POST and GET on /botTOKEN/METHOD and GET on /file/botTOKEN/PATH.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if rest, ok := strings.CutPrefix(r.URL.Path, "/file/bot"); ok {
		s.serveFile(w, rest)
		return
	}
	c := s.pool.Get().(*call)
	c.reset(r.Context())
	err := s.prepare(c, r)
	if err == nil {
		err = s.run(w, c)
		if err == errAnswered {
			return
		}
	}
	c.write(w, err)
	s.pool.Put(c)
}

// prepare checks the address and reads the parameters.
func (s *Server) prepare(c *call, r *http.Request) *apiError {
	if r.Method != http.MethodPost && r.Method != http.MethodGet {
		return errNotFound
	}
	token, name, ok := splitPath(r.URL.Path)
	if !ok {
		return errNotFound
	}
	if err := s.checkToken(token); err != nil {
		return err
	}
	if c.method = s.find(name); c.method == nil {
		return errNoMethod
	}
	if err := c.read(r); err != nil {
		return err
	}
	c.chatID, _ = strconv.ParseInt(c.text("chat_id"), 10, 64)
	return nil
}

// splitPath takes /botTOKEN/METHOD and the test environment's /botTOKEN/test/METHOD apart.
func splitPath(path string) (token, name string, ok bool) {
	rest, ok := strings.CutPrefix(path, "/bot")
	if !ok {
		return "", "", false
	}
	token, name, ok = strings.Cut(rest, "/")
	name = strings.TrimPrefix(name, "test/")
	return token, name, ok && name != ""
}

func (s *Server) checkToken(token string) *apiError {
	number, secret, ok := strings.Cut(token, ":")
	if _, err := strconv.ParseUint(number, 10, 52); !ok || err != nil || secret == "" {
		return errBadToken
	}
	s.mu.Lock()
	revoked := s.revoked
	s.mu.Unlock()
	if token != s.token || revoked {
		return errUnauthorized
	}
	return nil
}

// find looks a method up in any case without allocating for the usual lengths.
func (s *Server) find(name string) *method {
	var buf [40]byte
	low := buf[:0]
	for i := 0; i < len(name) && i < cap(low); i++ {
		b := name[i]
		if 'A' <= b && b <= 'Z' {
			b += 'a' - 'A'
		}
		low = append(low, b)
	}
	if len(low) != len(name) {
		return nil
	}
	return s.byName[string(low)]
}

// run lets an injected fault act, carries the method out and reports its effects.
// It gives errAnswered when the fault wrote the answer itself.
func (s *Server) run(w http.ResponseWriter, c *call) *apiError {
	s.note(c)
	fault := s.takeFault(c)
	if fault != nil {
		if err := fault.before(w, c); err != nil {
			return err
		}
	}
	err := c.method.do(s, c)
	if s.opts.OnEffect != nil {
		for _, e := range c.effects {
			s.opts.OnEffect(e)
		}
	}
	if fault != nil && fault.Kind == CutAfter {
		panic(http.ErrAbortHandler)
	}
	return err
}
