package telegram

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-telegram/bot/models"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/names"
)

// Source names this adapter in the inbox, and begins the name of its chats.
const Source = "tg"

// payloadMax is the most bytes a button can carry (Bot API 10.1, InlineKeyboardButton).
const payloadMax = 64

// Update is one update taken apart.
type Update struct {
	ID    int64
	Input chat.Input // Chat is empty when it is no private conversation's business
	Query string     // callback query that waits for an answer
	Group int64      // group in which somebody wrote to the bot; 0 for none
}

var errNoID = errors.New("update without an id")

// update is what is read of an update, with the library's types for the parts
// that are simple. Of all the rest nothing is looked at: the library's own
// update cannot be read at all when it holds a kind of medium, sender or member
// made up after the library, and a tap brings along the whole message.
type update struct {
	ID      int64    `json:"update_id"`
	Message *message `json:"message"`
	Edited  *message `json:"edited_message"`
	Query   *query   `json:"callback_query"`
}

type message struct {
	ID       int64              `json:"message_id"`
	From     *models.User       `json:"from"`
	Chat     models.Chat        `json:"chat"`
	Date     int64              `json:"date"`
	Text     string             `json:"text"`
	Caption  string             `json:"caption"`
	Photo    []models.PhotoSize `json:"photo"`
	Document *models.Document   `json:"document"`
	Pinned   *struct{}          `json:"pinned_message"`
	Timer    *struct{}          `json:"message_auto_delete_timer_changed"`
	Answered *shown             `json:"reply_to_message"`
	Origin   *origin            `json:"forward_origin"`
}

// shown is a message that an update shows again.
type shown struct {
	From   models.User `json:"from"`
	Chat   models.Chat `json:"chat"` // also there when the message is too old to be shown
	Date   int64       `json:"date"` // 0: too old to be shown
	Edited int64       `json:"edit_date"`
	Text   string      `json:"text"`
}

// origin says where a message was forwarded from.
type origin struct {
	Date   int64       `json:"date"`
	Sender models.User `json:"sender_user"`
}

type query struct {
	ID      string      `json:"id"`
	From    models.User `json:"from"`
	Message shown       `json:"message"`
	Data    string      `json:"data"`
}

// Received is an update of a list, with the bytes it came in.
//
// One with an error can still be used if its ID is not 0: something in it is not
// of the kind it should be, and Input is then of kind Foreign for the person who
// sent it, as far as that can be told.
type Received struct {
	Update
	Raw []byte
	Err error
}

var errNoList = errors.New("the answer holds no list of updates")

// DecodeList takes a list of updates apart in one reading: there may be megabytes
// of it after an outage. It never panics. Where it is no list, or is cut off,
// nothing of it is given. now dates what carries no date of its own, and is the
// latest date anything gets.
func DecodeList(list []byte, now time.Time) ([]Received, error) {
	dec := json.NewDecoder(bytes.NewReader(list))
	if begin, err := dec.Token(); err != nil || begin != json.Delim('[') {
		return nil, errNoList
	}
	all := make([]Received, 0, bytes.Count(list, []byte(`"update_id"`)))
	for dec.More() {
		var u update
		from := dec.InputOffset()
		err := dec.Decode(&u) // what does not fit is left out, and the rest is read
		raw := bytes.TrimLeft(list[from:dec.InputOffset()], ", \t\r\n")
		if len(raw) == 0 {
			return nil, errNoList // nothing that could be stepped over
		}
		r := Received{Raw: raw}
		r.Update, r.Err = u.taken(err, now)
		all = append(all, r)
	}
	if _, err := dec.Token(); err != nil {
		return nil, errNoList
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, errNoList
	}
	return all, nil
}

// taken is what an update says, read with an error or nil.
func (u *update) taken(err error, now time.Time) (Update, error) {
	if u.ID <= 0 {
		return Update{}, errNoID
	}
	up := Update{ID: u.ID}
	switch {
	case u.Message != nil:
		up.message(u.Message, now)
	case u.Edited != nil:
		up.edited(u.Edited, now)
	case u.Query != nil:
		up.tap(u.Query, now)
	}
	if err == nil {
		return up, nil
	}
	if in := &up.Input; in.Chat != "" {
		*in = chat.Input{Chat: in.Chat, Kind: chat.Foreign, At: in.At, Message: in.Message}
	}
	return up, fmt.Errorf("update %d: %w", up.ID, err)
}

// from says whose input it is, if it is a private conversation's. The id of
// such a chat is that of the person.
func (up *Update) from(where models.Chat, who *models.User, kind chat.Kind, at time.Time) {
	if where.Type != models.ChatTypePrivate || who == nil || who.IsBot || who.ID <= 0 {
		return
	}
	up.Input = chat.Input{Chat: chatOf(who.ID), Kind: kind, At: at}
}

// edited takes a message that was changed later: it is not an answer given
// twice, so what it says is left out. What has neither words nor a picture
// moves by itself, as a shared place does every few seconds, and is nobody's.
func (up *Update) edited(m *message, now time.Time) {
	if m.Text != "" || m.Caption != "" || m.Photo != nil || m.Document != nil {
		up.from(m.Chat, m.From, chat.Edited, now)
	}
}

func (up *Update) message(m *message, now time.Time) {
	at := now
	if date := time.Unix(m.Date, 0); m.Date > 0 && date.Before(now) {
		at = date.In(now.Location())
	}
	up.from(m.Chat, m.From, chat.Foreign, at)
	if up.Input.Chat == "" {
		if m.Chat.ID < 0 {
			up.Group = m.Chat.ID
		}
		return
	}
	up.Input.Message = m.ID
	if strings.HasPrefix(m.Text, "/start ") {
		up.Input.From, up.Input.Public = displayName(m.From)
	}
	switch {
	case m.Answered != nil:
		up.Input.Card = m.Answered.card(now)
	case m.Origin != nil && m.Origin.Sender.IsBot:
		up.Input.Card = (&shown{From: m.Origin.Sender, Date: m.Origin.Date, Text: m.Text}).card(now)
	}
	photo, pictured := picture(m)
	switch {
	case m.Text != "":
		up.Input.Kind, up.Input.Text = chat.Text, plainCommand(m.Text)
	case pictured:
		up.Input.Kind, up.Input.Text, up.Input.Photo = chat.Picture, m.Caption, photo
	case m.Document != nil && m.Document.FileID != "" && !strings.HasPrefix(m.Document.MimeType, "image/"):
		up.Input.Kind = chat.Sent // its caption is not kept: it answers nothing
		up.Input.Photo = books.Photo{ID: m.Document.FileID, Unique: m.Document.FileUniqueID}
	case m.Pinned != nil || m.Timer != nil:
		up.Input = chat.Input{} // the person arranged the chat and said nothing
	}
}

func (up *Update) tap(q *query, now time.Time) {
	up.Query = q.ID
	up.from(q.Message.Chat, &q.From, chat.Press, now)
	if up.Input.Chat != "" && len(q.Data) <= payloadMax {
		up.Input.Tap, up.Input.Card = q.Data, q.Message.card(now)
	}
}

// cardMax bounds what is kept of a card, in bytes: what says what it is stands at its head.
const cardMax = 1024

// card is a message of a bot's as the dialogs know it; nil for anybody else's. In a private
// conversation with a bot no other one writes.
func (m *shown) card(now time.Time) *chat.Card {
	if !m.From.IsBot || m.Text == "" || m.Date <= 0 {
		return nil
	}
	text := m.Text
	if len(text) > cardMax {
		text = strings.ToValidUTF8(text[:cardMax], "")
	}
	return &chat.Card{Text: text, At: time.Unix(max(m.Date, m.Edited), 0).In(now.Location())}
}

// nameMax bounds what is told of an account's name, in letters.
const nameMax = 64

// displayName is what a person chose to be called, as far as it can be seen, and
// the name that is theirs alone on the platform. The two are never put together:
// whoever chooses the first could write the second into it.
func displayName(u *models.User) (chosen, public string) {
	chosen, _ = clip(names.Seen(u.FirstName+" "+u.LastName), nameMax)
	return chosen, names.Seen(u.Username)
}

// plainCommand takes the bot's name off a command: "/open@shop_bot 1" is "/open 1".
func plainCommand(text string) string {
	if !strings.HasPrefix(text, "/") {
		return text
	}
	end := strings.IndexAny(text, " \n")
	if end < 0 {
		end = len(text)
	}
	at := strings.IndexByte(text[:end], '@')
	if at < 0 {
		return text
	}
	return text[:at] + text[end:]
}

// copyMax bounds which of the copies that the platform makes of a photo is taken.
const copyMax = 2 << 20

// picture finds the largest copy of a picture that can be fetched.
func picture(m *message) (books.Photo, bool) {
	for _, p := range slices.Backward(m.Photo) {
		if p.FileID != "" && p.FileSize <= copyMax {
			return books.Photo{ID: p.FileID, Unique: p.FileUniqueID}, true
		}
	}
	d := m.Document // a picture sent as a file
	if d == nil || d.FileID == "" || d.FileSize > PhotoMax || !strings.HasPrefix(d.MimeType, "image/") {
		return books.Photo{}, false
	}
	return books.Photo{ID: d.FileID, Unique: d.FileUniqueID}, true
}

func chatOf(user int64) chat.Chat {
	return chat.Chat(Source + ":" + strconv.FormatInt(user, 10))
}

// Owns reports whether a chat is one of this adapter's.
func Owns(where chat.Chat) bool {
	_, ok := userOf(where)
	return ok
}

// userOf is the way back; ok is false for a chat of another adapter.
func userOf(where chat.Chat) (id int64, ok bool) {
	number, found := strings.CutPrefix(string(where), Source+":")
	if !found {
		return 0, false
	}
	id, err := strconv.ParseInt(number, 10, 64)
	return id, err == nil && id > 0
}
