package file

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"sync"
	"time"
)

// Own gives the schema as the migrations make it in a file of their own in memory,
// which is done once. It is not to be changed.
func Own() (Schema, error) { return asMigrated() }

var asMigrated = sync.OnceValues(func() (own Schema, err error) {
	ctx := context.Background() // nobody who gives up spoils it for the next
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return own, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	c, err := db.Conn(ctx) // one connection: each has a memory of its own
	if err != nil {
		return own, err
	}
	defer func() { err = errors.Join(err, c.Close()) }()
	if err := migrate(ctx, c, migrationFiles, time.Time{}); err != nil {
		return own, err
	}
	return ReadSchema(On(ctx, c))
})

// Schema is how what a file is made of reads, by name, without its white space.
type Schema struct {
	Guards map[string]string // triggers: whoever drops or empties one can rewrite records and their hashes
	Tables map[string]string // with their indexes
	Done   map[string]string // migrations by number: name and checksum
}

// beside are tables that a replicator keeps for itself.
const beside = "_litestream_"

// ReadSchema reads that of a file.
func ReadSchema(each Query) (Schema, error) {
	s := Schema{map[string]string{}, map[string]string{}, map[string]string{}}
	err := each("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL", nil, func(row Scanner) error {
		var kind, name, body string
		if err := row.Scan(&kind, &name, &body); err != nil || strings.HasPrefix(name, beside) {
			return err
		}
		if body = strings.Join(strings.Fields(body), " "); kind == "trigger" {
			s.Guards[name] = body
		} else {
			s.Tables[name] = body
		}
		return nil
	})
	if err != nil {
		return s, err
	}
	return s, each("SELECT number, name, checksum FROM migration", nil, func(row Scanner) error {
		var number, name, sum string
		err := row.Scan(&number, &name, &sum)
		s.Done[number] = name + " " + sum
		return err
	})
}
