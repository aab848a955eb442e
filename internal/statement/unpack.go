package statement

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
)

// maxInside bounds the files in one packed file.
const maxInside = 200

var (
	gzipMagic = []byte{0x1f, 0x8b}
	zipMagic  = []byte("PK\x03\x04")
	zipEmpty  = []byte("PK\x05\x06")
)

// unpack hands over each file that is packed in one, or the file itself. Not
// more than max bytes come out of it in all.
func unpack(file io.ReaderAt, size, max int64, each func(io.Reader) error) error {
	left := max
	if size > max {
		return tooLarge(max)
	}
	head := make([]byte, 4)
	n, err := file.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	head = head[:n]
	whole := io.NewSectionReader(file, 0, size)
	switch {
	case bytes.HasPrefix(head, gzipMagic):
		return ungzip(whole, &left, max, each)
	case bytes.HasPrefix(head, zipMagic), bytes.HasPrefix(head, zipEmpty):
		return unzip(file, size, &left, max, each)
	}
	return each(&bounded{r: whole, left: &left, max: max})
}

func tooLarge(max int64) *Problem {
	return &Problem{Code: TooLarge, About: fmt.Sprintf("%d MB", max>>20)}
}

func ungzip(in io.Reader, left *int64, max int64, each func(io.Reader) error) error {
	z, err := gzip.NewReader(bufio.NewReader(in))
	if err != nil {
		return problem(Broken)
	}
	b := &bounded{r: z, left: left, max: max}
	if err := each(b); err != nil {
		return err
	}
	_, err = io.Copy(io.Discard, b) // what is left holds the check sum
	return asProblem(err)
}

func unzip(file io.ReaderAt, size int64, left *int64, max int64, each func(io.Reader) error) error {
	z, err := zip.NewReader(file, size)
	if err != nil {
		return problem(Broken)
	}
	files := slices.DeleteFunc(slices.Clone(z.File), besides)
	if len(files) > maxInside {
		return &Problem{Code: Packed, About: fmt.Sprintf("more than %d files are in it", maxInside)}
	}
	slices.SortStableFunc(files, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	for _, f := range files {
		if err := inZip(f, left, max, each); err != nil {
			return err
		}
	}
	return nil
}

// besides reports whether a packed file is none of the bank's: folders, what some
// systems put beside each file, and the same statement for paper.
func besides(f *zip.File) bool {
	return strings.HasSuffix(f.Name, "/") || strings.HasPrefix(f.Name, "__") ||
		strings.HasPrefix(path.Base(f.Name), ".") || strings.EqualFold(path.Ext(f.Name), ".pdf")
}

func inZip(f *zip.File, left *int64, max int64, each func(io.Reader) error) error {
	if f.Flags&1 != 0 {
		return &Problem{Code: Packed, About: "it has a password"}
	}
	in, err := f.Open()
	if err != nil {
		return problem(Broken)
	}
	defer func() { _ = in.Close() }()
	b := &bounded{r: in, left: left, max: max}
	if err := each(b); err != nil {
		return err
	}
	_, err = io.Copy(io.Discard, b)
	return asProblem(err)
}

// bounded ends with a problem when too much comes out.
type bounded struct {
	r    io.Reader
	left *int64
	max  int64
}

func (b *bounded) Read(p []byte) (int, error) {
	n, err := b.r.Read(p)
	if *b.left -= int64(n); *b.left < 0 {
		return 0, tooLarge(b.max)
	}
	if err != nil && !errors.Is(err, io.EOF) {
		err = problem(Broken)
	}
	return n, err
}
