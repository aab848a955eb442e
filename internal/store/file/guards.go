package file

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// Guards gives the triggers that keep records from being changed or taken
// away, by name, as the migrations make them in a file of their own in memory.
// Whoever drops or empties one can rewrite the records and their hashes.
func Guards(ctx context.Context) (own map[string]string, err error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	c, err := db.Conn(ctx) // one connection: each has a memory of its own
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, c.Close()) }()
	if err := migrate(ctx, c, migrationFiles, time.Time{}); err != nil {
		return nil, err
	}
	return Triggers(On(ctx, c))
}

// Triggers reads the triggers of a file, without what white space they have.
func Triggers(each Query) (map[string]string, error) {
	have := map[string]string{}
	err := each("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'", nil, func(row Scanner) error {
		var name, body string
		err := row.Scan(&name, &body)
		have[name] = strings.Join(strings.Fields(body), " ")
		return err
	})
	return have, err
}
