package terminal

import (
	"bufio"
	"bytes"
	"errors"
	"io"
)

// lineMax bounds a line in bytes: far above what a chat message holds, which is
// 4,096 characters (Bot API, sendMessage).
const lineMax = 64 << 10

var errLong = errors.New("the message is too long; a chat message has at most 4,096 characters")

// lines reads lines one by one, whatever their length.
type lines struct{ in *bufio.Reader }

func linesOf(in io.Reader) lines { return lines{bufio.NewReaderSize(in, lineMax)} }

// next gives a line without its end. errLong says that it was longer than
// lineMax and is passed over; io.EOF that there are no more. A line that broke
// off in a fault is not given.
func (l lines) next() (string, error) {
	b, err := l.in.ReadSlice('\n')
	long := false
	for ; errors.Is(err, bufio.ErrBufferFull); _, err = l.in.ReadSlice('\n') {
		long = true
	}
	switch {
	case long && (err == nil || errors.Is(err, io.EOF)):
		return "", errLong
	case errors.Is(err, io.EOF) && len(b) > 0:
		err = nil
	}
	if err != nil {
		return "", err
	}
	return string(bytes.TrimSuffix(bytes.TrimSuffix(b, []byte("\n")), []byte("\r"))), nil
}
