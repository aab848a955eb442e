package file

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "write schema.sql anew")

const schemaHead = `-- What the migrations make of an empty file. What each table is for stands there.
-- It is written by: go test ./internal/store/file -run TestNewFile -update
`

// A new file is what it would be had it gone through every migration.
func TestNewFile(t *testing.T) {
	want := everything(t, stepwise{migrationFiles})
	if *update {
		script := schemaHead
		for _, made := range want.made {
			if _, said, _ := strings.Cut(made, ": "); said != "" {
				script += said + ";\n"
			}
		}
		script += fmt.Sprintf("PRAGMA application_id = %s;\n", want.header["application_id"])
		if err := os.WriteFile(newFile, []byte(script), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Skip("written; run the test again")
	}
	if len(want.made) < 50 || len(want.rows["migration"]) < 14 {
		t.Fatalf("the migrations make only %d things", len(want.made))
	}
	have := everything(t, migrationFiles)
	for i, made := range want.made {
		if i >= len(have.made) || have.made[i] != made {
			t.Fatalf("thing %d is otherwise:\n%s\nin a new file, by the migrations\n%s", i,
				append(have.made, "missing")[min(i, len(have.made))], made)
		}
	}
	if !reflect.DeepEqual(have, want) {
		t.Errorf("a new file is %+v, by the migrations %+v", have, want)
	}
}

// stepwise are migrations without what they come to.
type stepwise struct{ fs.FS }

func (s stepwise) Open(name string) (fs.File, error) {
	if name == newFile {
		return nil, fs.ErrNotExist
	}
	return s.FS.Open(name)
}

// whole is all that is in a file, byte by byte.
type whole struct {
	made   []string            // all it is made of, in order
	rows   map[string][]string // of each table
	header map[string]string   // numbers of the file that programs set
}

func everything(t *testing.T, files fs.FS) whole {
	t.Helper()
	ctx := context.Background()
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	db.SetMaxOpenConns(1) // each connection has a memory of its own
	c, err := db.Conn(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if err := migrate(ctx, c, files, time.UnixMilli(7)); err != nil {
		t.Fatal(err)
	}
	each := On(ctx, c)
	w := whole{rows: map[string][]string{}, header: map[string]string{}}
	w.made = list(t, each, `SELECT type || ' ' || name || ' on ' || tbl_name || ': ' || coalesce(sql, '')
		FROM sqlite_schema ORDER BY rowid`)
	for _, table := range list(t, each, "SELECT name FROM sqlite_schema WHERE type = 'table'") {
		columns := list(t, each, "SELECT 'quote(\"' || name || '\")' FROM pragma_table_info('"+table+"')")
		w.rows[table] = list(t, each, "SELECT "+strings.Join(columns, "||' '||")+` FROM "`+table+`"`)
	}
	for _, name := range []string{"application_id", "user_version", "encoding", "auto_vacuum", "page_size"} {
		w.header[name] = strings.Join(list(t, each, "PRAGMA "+name), " ")
	}
	return w
}

func list(t *testing.T, each Query, query string) (out []string) {
	t.Helper()
	err := each(query, nil, func(row Scanner) error {
		var s string
		err := row.Scan(&s)
		out = append(out, s)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
