package botapitest

// Message is one message as its chat shows it now. Slices are shared: do not change their elements.
type Message struct {
	ID       int
	From     int64 // sender's user id
	FromBot  bool
	Date     int64  // seconds since 1970 by the server's clock
	EditDate int64  // 0 if never edited
	Version         // what it shows
	File     string // file id of a photo or document, "" for a text
	Photo    bool   // whether the file was sent as a photo
	FileName string // name of a document
	FileKind string // MIME type of a document, as its sender says
	ReplyTo  int    // message id, 0 for none
	Forwards int    // likewise, of the bot's message in the same chat that was forwarded here
	Silent   bool   // sent without a sound
	// Menu holds the labels of a reply keyboard that came with the message. Such a message cannot be edited.
	Menu [][]string
	// Edits are the earlier versions, oldest first.
	Edits []Version

	fixed bool // carries a reply keyboard, its removal or a forced reply
}

// Version is the part of a message that an edit changes.
type Version struct {
	Text     string // text or caption, without markup
	Entities []Entity
	Buttons  [][]Button // inline keyboard
}

// Entity is a formatted stretch of a text. Offset and Length count UTF-16 units (API MessageEntity).
type Entity struct {
	Type     string `json:"type"`
	Offset   int    `json:"offset"`
	Length   int    `json:"length"`
	URL      string `json:"url,omitempty"`
	Language string `json:"language,omitempty"`
}

// Button is one button of an inline keyboard. Exactly one of Data, URL, CopyText and Other says what it does.
type Button struct {
	Text     string
	Style    string // "", "danger", "success" or "primary"
	Data     string // 1-64 bytes sent back by a tap
	URL      string
	CopyText string // 1-256 characters
	Other    string // name of another action, such as web_app
}

// Answer is what a person saw after a tap.
type Answer struct {
	Query string // callback query id
	Text  string // 0-200 characters
	Alert bool   // a box to close instead of a short notice
}

// place gives a message the next id and the clock's date and puts it at the end of its chat.
func (s *Server) place(c *chat, m *Message) *Message {
	m.ID = c.first + len(c.messages)
	m.Date = s.now().Unix()
	c.messages = append(c.messages, m)
	if keep := s.opts.KeepMessages; keep > 0 && len(c.messages) > keep {
		c.messages[0] = nil
		c.messages = c.messages[1:]
		c.first++
	}
	s.changed.Broadcast()
	return m
}

// message finds a message that still exists, nil otherwise.
func (c *chat) message(id int) *Message {
	if i := id - c.first; i >= 0 && i < len(c.messages) {
		return c.messages[i]
	}
	return nil
}

func (c *chat) remove(id int) { c.messages[id-c.first] = nil }

func (c *chat) addAnswer(a Answer, keep int) {
	c.answers = append(c.answers, a)
	if keep > 0 && len(c.answers) > keep {
		c.answers = c.answers[1:]
	}
}

// revise replaces what a message shows and keeps the earlier version.
func (s *Server) revise(m *Message, v Version) {
	m.Edits = append(m.Edits[:len(m.Edits):len(m.Edits)], m.Version)
	if keep := s.opts.KeepMessages; keep > 0 && len(m.Edits) > keep {
		m.Edits = m.Edits[1:]
	}
	m.Version = v
	m.EditDate = s.now().Unix()
	s.changed.Broadcast()
}
