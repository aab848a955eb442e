package dayfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
)

// Batch answers every line of r with one line on w: the day's result, or
// {"error":"field: …"}. It returns how many lines there were and how many were
// unusable; the error is one of reading or writing.
func Batch(r io.Reader, w io.Writer) (days, unusable int, err error) {
	in := bufio.NewReaderSize(r, 64<<10)
	out := bufio.NewWriter(w)
	for {
		line, fits, readErr := nextLine(in)
		if readErr != nil && !errors.Is(readErr, io.EOF) {
			return days, unusable, errors.Join(fmt.Errorf("read line %d: %w", days+1, readErr), out.Flush())
		}
		if readErr != nil && len(line) == 0 && fits {
			return days, unusable, out.Flush()
		}
		days++
		usable, err := answerLine(out, line, fits)
		if err != nil {
			return days, unusable, err
		}
		if !usable {
			unusable++
		}
	}
}

func answerLine(w io.Writer, line []byte, fits bool) (usable bool, err error) {
	if !fits {
		return false, Refusal(w, refuse(whole, "line of more than %d bytes", SizeMax))
	}
	file, err := Decode(line)
	if err != nil {
		return false, Refusal(w, err)
	}
	return true, Answer(w, file)
}

// nextLine reads up to the next line end, without it. Of a line that is too long it
// keeps nothing and reports that it does not fit. The error is io.EOF with the last
// line, or with none.
func nextLine(in *bufio.Reader) (line []byte, fits bool, err error) {
	fits = true
	for {
		part, err := in.ReadSlice('\n')
		if err == nil {
			part = part[:len(part)-1]
		}
		line = append(line, part...)
		if len(line) > SizeMax {
			line, fits = line[:0], false
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return line, fits, err
		}
	}
}
