package botapitest

import (
	"strconv"
	"time"
)

// State says whether the bot may write to a chat.
type State int

// States of a chat. Texts of the refusals: FACTS.md B.
const (
	Active      State = iota // the bot may write
	Silent                   // the person never wrote to the bot
	Blocked                  // the person blocked the bot
	Deactivated              // the person's account is gone
	Kicked                   // the bot was thrown out of the group
	Left                     // the bot is not a member of the group
	Gone                     // the group was deleted
)

// groupAdmin is the made-up person who lets the bot into groups and throws it out.
const groupAdmin = 777

type user struct {
	id             int64
	name, username string
	bot            bool
}

type chat struct {
	id       int64
	title    string
	state    State
	movedTo  int64
	head     []byte // the chat as a JSON object
	first    int    // id of messages[0]
	messages []*Message
	answers  []Answer
	pace     pace
}

// AddUser makes a person known who has started the bot; the private chat has the person's id.
// A person added before gets the new name. Anybody not added is unknown until the first injected message.
func (s *Server) AddUser(id int64, name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.addUser(id, name)
	s.addChat(id, name)
}

// AddGroup makes a group known that the bot is a member of. An id below -1e12 is a supergroup's, else a basic
// group's (sign pattern from memory).
func (s *Server) AddGroup(id int64, title string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.addChat(id, title)
}

func (s *Server) addUser(id int64, name string) *user {
	u := &user{id: id, name: name}
	s.users[id] = u
	return u
}

func (s *Server) addChat(id int64, title string) *chat {
	c := s.chats[id]
	if c == nil {
		c = &chat{id: id, first: 1}
		s.chats[id] = c
	}
	c.title = title
	c.head = appendChat(nil, c)
	return c
}

// person finds a user, making one up for an id never seen.
func (s *Server) person(id int64) *user {
	if u := s.users[id]; u != nil {
		return u
	}
	return s.addUser(id, "User "+strconv.FormatInt(id, 10))
}

// room finds a chat, making one up for an id never seen.
func (s *Server) room(id int64) *chat {
	if c := s.chats[id]; c != nil {
		return c
	}
	if id < 0 {
		return s.addChat(id, "Group "+strconv.FormatInt(id, 10))
	}
	return s.addChat(id, s.person(id).name)
}

func (c *chat) kind() string {
	switch {
	case c.id > 0:
		return "private"
	case c.id < -1_000_000_000_000:
		return "supergroup"
	}
	return "group"
}

// SetState changes whether the bot may write to a chat. A change from or to Active queues the my_chat_member
// update that tells the bot of it.
func (s *Server) SetState(chat int64, state State) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.setState(s.room(chat), state)
}

func (s *Server) setState(c *chat, state State) {
	was := c.state
	c.state = state
	if before, after := membership(was), membership(state); before != after && before != "" && after != "" {
		s.tellMembership(c, before, after)
	}
}

// membership is the bot's status in a chat as updates name it, "" where no update tells of it.
func membership(state State) string {
	switch state {
	case Active:
		return "member"
	case Blocked, Kicked:
		return "kicked"
	case Left:
		return "left"
	}
	return ""
}

func (s *Server) tellMembership(c *chat, before, after string) {
	u := s.person(groupAdmin)
	if c.id > 0 {
		u = s.person(c.id)
	}
	b := append([]byte(`{"chat":`), c.head...)
	b = appendUser(appendKey(b, "from"), u)
	b = appendIntField(b, "date", s.now().Unix())
	for _, side := range [...][2]string{{"old_chat_member", before}, {"new_chat_member", after}} {
		b = append(append(appendKey(b, side[0]), `{"user":`...), s.me...)
		b = appendStringField(b, "status", side[1])
		if side[1] == "kicked" {
			b = appendIntField(b, "until_date", 0)
		}
		b = append(b, '}')
	}
	s.queue.add(s, "my_chat_member", append(b, '}'), 24*time.Hour)
}

// Migrate turns a group into a supergroup: writing to the old id fails with the new one in the answer, and
// the two service messages that announce the change are queued.
func (s *Server) Migrate(from, to int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	before := s.room(from)
	after := s.addChat(to, before.title)
	before.movedTo = to
	s.tellService(before, "migrate_to_chat_id", to)
	s.tellService(after, "migrate_from_chat_id", from)
}

func (s *Server) tellService(c *chat, field string, id int64) {
	m := s.place(c, &Message{})
	b := appendMessageHead(nil, s, c, m)
	b = append(appendIntField(b, field, id), '}')
	s.queue.add(s, "message", b, 24*time.Hour)
}

// reach finds the chat a call writes to, or the refusal (platform server, check_chat_access; FACTS.md B).
func (s *Server) reach(c *call) (*chat, *apiError) {
	if len(c.raw("chat_id")) == 0 {
		return nil, badRequest("chat_id is empty")
	}
	ch := s.chats[c.chatID]
	if ch == nil {
		return nil, badRequest("chat not found")
	}
	if ch.movedTo != 0 {
		err := badRequest("group chat was upgraded to a supergroup chat")
		err.migratedTo = ch.movedTo
		return nil, err
	}
	return ch, ch.refusal()
}

func (c *chat) refusal() *apiError {
	kind := c.kind() + " chat"
	switch c.state {
	case Active:
		return nil
	case Silent:
		return forbidden("bot can't initiate conversation with a user")
	case Blocked:
		return forbidden("bot was blocked by the user")
	case Deactivated:
		return forbidden("user is deactivated")
	case Kicked:
		return forbidden("bot was kicked from the " + kind)
	case Left:
		return forbidden("bot is not a member of the " + kind)
	}
	return forbidden("the group chat was deleted")
}

func appendUser(b []byte, u *user) []byte {
	b = strconv.AppendInt(append(b, `{"id":`...), u.id, 10)
	b = strconv.AppendBool(append(b, `,"is_bot":`...), u.bot)
	b = appendStringField(b, "first_name", u.name)
	if u.username != "" {
		b = appendStringField(b, "username", u.username)
	}
	return append(b, '}')
}

func appendChat(b []byte, c *chat) []byte {
	b = strconv.AppendInt(append(b, `{"id":`...), c.id, 10)
	b = appendStringField(b, "type", c.kind())
	if c.id > 0 {
		b = appendStringField(b, "first_name", c.title)
	} else {
		b = appendStringField(b, "title", c.title)
	}
	return append(b, '}')
}
