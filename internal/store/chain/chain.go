// Package chain keeps, in a chain of hashes, what was told of a shop beside its
// records: versions of settings, names, accounts, codes, photos. Each row of
// those tables has its digest in it, so that none can change unseen.
package chain

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/seal"
)

// Kind says which table an entry tells of.
type Kind string

// The kinds of row.
const (
	Settings Kind = "settings" // key: the version
	Person   Kind = "person"   // key: the person's number
	Account  Kind = "account"  // key: a digest of the chat
	Code     Kind = "code"     // key: the code's hash
	Month    Kind = "month"    // key: the month, finished
	Picture  Kind = "picture"  // key: machine, entry and number of the photo
)

// Entry is one thing told of a shop.
type Entry struct {
	Shop       shop.ID
	Seq        int64
	Kind       Kind
	Key        string
	By         shop.PersonID
	Recorded   int64
	Row        []byte // digest of the row it tells of; nil: it is gone
	Prev, Hash []byte
}

// Seal is the hash of an entry, and so by Prev of all before it.
func (e *Entry) Seal() []byte {
	c := seal.New()
	c.Number(int64(e.Shop))
	c.Number(e.Seq)
	c.Text(string(e.Kind))
	c.Text(e.Key)
	c.Number(int64(e.By))
	c.Number(e.Recorded)
	c.Bytes(e.Row)
	c.Bytes(e.Prev)
	return c.Sum()
}

// Head is the newest entry of a shop.
type Head struct {
	Seq  int64
	Hash []byte
}

// Pin is a head as a record names it.
func (h Head) Pin() string {
	return strconv.FormatInt(h.Seq, 10) + "." + base64.RawURLEncoding.EncodeToString(h.Hash)
}

// ReadPin reads a pin.
func ReadPin(s string) (h Head, ok bool) {
	seq, hash, _ := strings.Cut(s, ".")
	var err error
	h.Seq, err = strconv.ParseInt(seq, 10, 64)
	if err == nil {
		h.Hash, err = base64.RawURLEncoding.DecodeString(hash)
	}
	return h, err == nil && len(h.Hash) == seal.Size && h.Seq >= 0 && h.Pin() == s
}

// Cache holds the heads that the last transactions read and wrote.
type Cache struct{ heads map[shop.ID]Head }

// Forget drops all of it.
func (c *Cache) Forget() { *c = Cache{} }

// Chain is what was told of shops, within one transaction.
type Chain struct {
	tx     *file.Tx
	at     *Cache
	by     *shop.PersonID
	random io.Reader
}

// In gives it within a transaction; salts come from random.
func In(tx *file.Tx, at *Cache, random io.Reader) Chain {
	return Chain{tx, at, new(shop.PersonID), random}
}

// ActAs says who does what follows in this transaction; 0 is the program.
func (t Chain) ActAs(person shop.PersonID) { *t.by = person }

// saltSize is 128 bits.
const saltSize = 16

// Salt draws a salt for a row.
func (t Chain) Salt() ([]byte, error) {
	b := make([]byte, saltSize)
	_, err := io.ReadFull(t.random, b)
	return b, err
}

// ShopHead is the newest entry of a shop; the zero one where there is none.
func (t Chain) ShopHead(id shop.ID) (Head, error) {
	if h, ok := t.at.heads[id]; ok {
		return h, nil
	}
	h := Head{Hash: make([]byte, seal.Size)}
	err := t.tx.One("SELECT seq, hash FROM shop_entry WHERE shop = ? ORDER BY seq DESC LIMIT 1", []any{id},
		&h.Seq, &h.Hash)
	if err != nil && !errors.Is(err, file.ErrNone) {
		return h, fmt.Errorf("shop %d: %w", id, err)
	}
	file.Keep(&t.at.heads, file.KeepSmall, id, h)
	return h, nil
}

// Tell adds that a row reads as its digest says now, or that it is gone.
func (t Chain) Tell(id shop.ID, kind Kind, key string, row []byte) error {
	h, err := t.ShopHead(id)
	if err != nil {
		return err
	}
	e := Entry{Shop: id, Seq: h.Seq + 1, Kind: kind, Key: key, By: *t.by,
		Recorded: file.Milli(t.tx.Now()), Row: row, Prev: h.Hash}
	e.Hash = e.Seal()
	err = t.tx.Exec(`INSERT INTO shop_entry (shop, seq, kind, key, by_person, recorded, row, prev, hash)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`, id, e.Seq, string(kind), key, e.By, e.Recorded,
		file.OrNull(row), e.Prev, e.Hash)
	if err != nil {
		return fmt.Errorf("shop %d: %w", id, err)
	}
	file.Keep(&t.at.heads, file.KeepSmall, id, Head{e.Seq, e.Hash})
	return nil
}

// Read gives all entries, by shop and number.
func Read(each file.Query, fn func(*Entry) error) error {
	return each(`SELECT shop, seq, kind, key, by_person, recorded, row, prev, hash FROM shop_entry
		ORDER BY shop, seq`, nil, func(row file.Scanner) error {
		e := &Entry{}
		err := row.Scan(&e.Shop, &e.Seq, &e.Kind, &e.Key, &e.By, &e.Recorded, &e.Row, &e.Prev, &e.Hash)
		if err != nil {
			return err
		}
		return fn(e)
	})
}

// Follows reports whether an entry is the one after another; nil: the first.
func (e *Entry) Follows(last *Entry) bool {
	prev, seq := make([]byte, seal.Size), int64(1)
	if last != nil {
		prev, seq = last.Hash, last.Seq+1
	}
	return e.Seq == seq && bytes.Equal(e.Prev, prev)
}
