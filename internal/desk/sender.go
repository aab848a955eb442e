package desk

import (
	"context"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk/queue"
)

// Out is a message on its way.
type Out struct {
	ID        int64
	Chat      chat.Chat
	Reply     chat.Reply
	MessageID int64 // the message this replaces; 0: send it anew
	Retired   int64 // the message whose buttons are dead from now on; 0: none known
}

// Sender sends one message and gives the id of the message it became. An error
// is one of those below or wraps one; any other is taken for a fault of the
// network and tried again, less and less often.
type Sender interface {
	Send(ctx context.Context, out Out) (messageID int64, err error)
}

// What can become of a message.
var (
	ErrGone     = errors.New("the chat takes no messages") // blocked or unknown
	ErrVanished = errors.New("the message to edit is gone")
	ErrRefused  = errors.New("the message is refused") // it never will be taken
	ErrStop     = errors.New("no message may be sent") // the token is refused
)

// Later says that a chat takes no messages for a while.
type Later struct{ After time.Duration }

func (l *Later) Error() string { return fmt.Sprintf("try again after %s", l.After) }

// Pace bounds the speed of sending, see [queue.Pace].
type Pace = queue.Pace
