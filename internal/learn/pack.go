package learn

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
)

// Pack makes what is kept of something learnt a fifth smaller, with gzip.
func Pack(plain []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err == nil {
		_, err = z.Write(plain)
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		return nil, fmt.Errorf("pack what was learnt: %w", err)
	}
	return out.Bytes(), nil
}

// Unpack gives what was packed.
func Unpack(file []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(file))
	if err != nil {
		return nil, fmt.Errorf("read what was learnt: %w", err)
	}
	plain, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("read what was learnt: %w", err)
	}
	return plain, nil
}
