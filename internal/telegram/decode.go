package telegram

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-telegram/bot/models"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
)

// Source names this adapter in the inbox, and begins the name of its chats.
const Source = "tg"

// payloadMax is the most bytes a button can carry (Bot API 10.1, InlineKeyboardButton).
const payloadMax = 64

// Update is one update taken apart.
type Update struct {
	ID    int64
	Input dialogs.Input // Chat is empty when it is no private conversation's business
	Query string        // callback query that waits for an answer
	Group int64         // group in which somebody wrote to the bot; 0 for none
}

var errNoID = errors.New("update without an id")

// Decode takes one update apart. It never panics. now dates what carries no
// date of its own, and is the latest date anything gets.
//
// An update with an error can still be used if its ID is not 0: it holds
// something that the library does not know, and Input is then of kind Foreign
// for the person who sent it, as far as that can be told.
func Decode(raw []byte, now time.Time) (Update, error) {
	var u models.Update
	if err := json.Unmarshal(raw, &u); err != nil {
		up := decodeBare(raw, now)
		if up.ID == 0 {
			return Update{}, errNoID
		}
		return up, fmt.Errorf("update %d: %w", up.ID, err)
	}
	up := Update{ID: u.ID}
	switch {
	case u.ID <= 0:
		return Update{}, errNoID
	case u.Message != nil:
		up.message(u.Message, now)
	case u.EditedMessage != nil:
		// A message changed later is not an answer given twice.
		up.from(u.EditedMessage.Chat, u.EditedMessage.From, dialogs.Foreign, now)
	case u.CallbackQuery != nil:
		up.tap(u.CallbackQuery, now)
	}
	return up, nil
}

// from says whose input it is, if it is a private conversation's. The id of
// such a chat is that of the person.
func (up *Update) from(chat models.Chat, who *models.User, kind dialogs.Kind, at time.Time) {
	if chat.Type != models.ChatTypePrivate || who == nil || who.IsBot || who.ID <= 0 {
		return
	}
	up.Input = dialogs.Input{Chat: chatOf(who.ID), Kind: kind, At: at}
}

func (up *Update) message(m *models.Message, now time.Time) {
	at := now
	if date := time.Unix(int64(m.Date), 0); m.Date > 0 && date.Before(now) {
		at = date.In(now.Location())
	}
	up.from(m.Chat, m.From, dialogs.Foreign, at)
	if up.Input.Chat == "" {
		if m.Chat.ID < 0 {
			up.Group = m.Chat.ID
		}
		return
	}
	up.Input.Message = int64(m.ID)
	if strings.HasPrefix(m.Text, "/start ") {
		up.Input.From = displayName(m.From)
	}
	photo, pictured := picture(m)
	switch {
	case m.Text != "":
		up.Input.Kind, up.Input.Text = dialogs.Text, plainCommand(m.Text)
	case pictured:
		up.Input.Kind, up.Input.Text, up.Input.Photo = dialogs.Picture, m.Caption, photo
	case m.PinnedMessage != nil || m.MessageAutoDeleteTimerChanged != nil:
		up.Input = dialogs.Input{} // the person arranged the chat and said nothing
	}
}

func (up *Update) tap(q *models.CallbackQuery, now time.Time) {
	up.Query = q.ID
	var chat models.Chat
	switch {
	case q.Message.Message != nil:
		chat = q.Message.Message.Chat
	case q.Message.InaccessibleMessage != nil:
		chat = q.Message.InaccessibleMessage.Chat
	}
	up.from(chat, &q.From, dialogs.Press, now)
	if up.Input.Chat != "" && len(q.Data) <= payloadMax {
		up.Input.Tap = q.Data
	}
}

// nameMax bounds what is told of an account's name, in letters.
const nameMax = 64

// displayName is what a person's account is called: the name they chose, and
// the public one where there is one.
func displayName(u *models.User) string {
	name := strings.TrimSpace(u.FirstName + " " + u.LastName)
	if u.Username != "" {
		name += " (@" + u.Username + ")"
	}
	short, _ := clip(name, nameMax)
	return short
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

// picture finds the largest copy of a picture that can be fetched.
func picture(m *models.Message) (books.Photo, bool) {
	for _, p := range slices.Backward(m.Photo) {
		if p.FileID != "" && p.FileSize <= PhotoMax {
			return books.Photo{ID: p.FileID, Unique: p.FileUniqueID}, true
		}
	}
	d := m.Document // a picture sent as a file
	if d == nil || d.FileID == "" || d.FileSize > PhotoMax || !strings.HasPrefix(d.MimeType, "image/") {
		return books.Photo{}, false
	}
	return books.Photo{ID: d.FileID, Unique: d.FileUniqueID}, true
}

// bare is what is read of an update that the library cannot read.
type bare struct {
	ID      int64 `json:"update_id"`
	Message *struct {
		Chat models.Chat  `json:"chat"`
		From *models.User `json:"from"`
	} `json:"message"`
	Query *struct {
		ID string `json:"id"`
	} `json:"callback_query"`
}

func decodeBare(raw []byte, now time.Time) Update {
	var b bare
	if err := json.Unmarshal(raw, &b); err != nil || b.ID <= 0 {
		return Update{ID: idOnly(raw)}
	}
	up := Update{ID: b.ID}
	if b.Message != nil {
		up.from(b.Message.Chat, b.Message.From, dialogs.Foreign, now)
	}
	if b.Query != nil {
		up.Query = b.Query.ID
	}
	return up
}

// idOnly is the last resort: without an id the server would send the update for ever.
func idOnly(raw []byte) int64 {
	var b struct {
		ID int64 `json:"update_id"`
	}
	if err := json.Unmarshal(raw, &b); err != nil || b.ID < 0 {
		return 0
	}
	return b.ID
}

func chatOf(user int64) dialogs.Chat {
	return dialogs.Chat(Source + ":" + strconv.FormatInt(user, 10))
}

// Owns reports whether a chat is one of this adapter's.
func Owns(chat dialogs.Chat) bool {
	_, ok := userOf(chat)
	return ok
}

// userOf is the way back; ok is false for a chat of another adapter.
func userOf(chat dialogs.Chat) (id int64, ok bool) {
	number, found := strings.CutPrefix(string(chat), Source+":")
	if !found {
		return 0, false
	}
	id, err := strconv.ParseInt(number, 10, 64)
	return id, err == nil && id > 0
}
