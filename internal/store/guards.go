package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
)

// guards gives the triggers that keep records from being changed or taken
// away, by name, as the migrations make them in a file of their own in memory.
// Whoever drops or empties one can rewrite the records and their hashes.
func guards(ctx context.Context) (own map[string]string, err error) {
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
	return triggers(func(q string, args []any, scan func(scanner) error) error {
		rows, err := c.QueryContext(ctx, q, args...)
		if err != nil {
			return err
		}
		return drain(rows, scan)
	})
}

// triggers reads the triggers of a file, without what white space they have.
func triggers(each query) (map[string]string, error) {
	have := map[string]string{}
	err := each("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'", nil, func(row scanner) error {
		var name, body string
		err := row.Scan(&name, &body)
		have[name] = strings.Join(strings.Fields(body), " ")
		return err
	})
	return have, err
}

// unguarded names the guards that the file has lost or that read differently,
// and triggers that are not the program's own.
func (v *verifier) unguarded() (faults []string, err error) {
	have, err := triggers(v.each)
	for _, name := range slices.Sorted(maps.Keys(v.guards)) {
		switch body, ok := have[name]; {
		case !ok:
			faults = append(faults, fmt.Sprintf("the file has lost its guard %s: records could be changed", name))
		case body != v.guards[name]:
			faults = append(faults,
				fmt.Sprintf("the file's guard %s reads differently: records could be changed", name))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(have)) {
		if _, ok := v.guards[name]; !ok {
			faults = append(faults, fmt.Sprintf("the file has a trigger %s that is not shopfloat's", name))
		}
	}
	return faults, err
}
