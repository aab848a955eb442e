package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The dialogs are a house: whoever lives on a floor may use what stands on the
// floors below. Rooms share a floor and know nothing of one another.
var floors = map[string]int{
	"internal/chat": 1, "internal/dialogs/engine": 2, "internal/dialogs/ask": 3, "internal/dialogs/trade": 4,
	"internal/dialogs": 6,
}

// roomFloor is where every other package of the dialogs stands.
const roomFloor = 5

func floorOf(dir string) (floor int, ok bool) {
	if floor, ok = floors[dir]; ok {
		return floor, true
	}
	return roomFloor, strings.HasPrefix(dir, "internal/dialogs/")
}

// upstairs finds the imports of a package of the house that it may not have.
func upstairs(f file) (bad []string) {
	at, ok := floorOf(f.dir)
	if !ok {
		return nil
	}
	for _, i := range f.imports {
		to, inHouse := floorOf(strings.TrimPrefix(i, "shopfloat/"))
		if inHouse && to >= at {
			bad = append(bad, i)
		}
	}
	return bad
}

func TestRoomsDoNotKnowOneAnother(t *testing.T) {
	rooms := map[string]bool{}
	for _, f := range sources(t) {
		if at, ok := floorOf(f.dir); ok && at == roomFloor {
			rooms[f.dir] = true
		}
		for _, i := range upstairs(f) {
			t.Errorf("%s imports %s, which is no floor below it", f.path, i)
		}
	}
	if len(rooms) < 10 {
		t.Errorf("only %d rooms", len(rooms))
	}
}

// The rule finds what it is to find.
func TestUpstairsIsFound(t *testing.T) {
	for dir, i := range map[string]string{
		"internal/dialogs/day":   "shopfloat/internal/dialogs/closing",
		"internal/dialogs/ask":   "shopfloat/internal/dialogs/trade",
		"internal/chat":          "shopfloat/internal/dialogs/engine",
		"internal/dialogs/money": "shopfloat/internal/dialogs",
	} {
		if bad := upstairs(file{dir: dir, imports: []string{"strings", i, "shopfloat/internal/books"}}); len(
			bad,
		) != 1 {
			t.Errorf("%s may import %s", dir, i)
		}
	}
	below := file{dir: "internal/dialogs/day", imports: []string{"shopfloat/internal/dialogs/trade"}}
	if bad := upstairs(below); bad != nil {
		t.Error("a room may not use the floor below it")
	}
}

// seamOnly are the packages that know of the dialogs what the seam tells, and no more.
var seamOnly = []string{
	"internal/store", "internal/store/file", "internal/store/ledger", "internal/store/people",
	"internal/store/proof", "internal/store/queues", "internal/telegram", "internal/terminal", "internal/desk",
}

func TestAdaptersKnowTheSeamOnly(t *testing.T) {
	seen := 0
	for _, f := range sources(t) {
		if !slices.Contains(seamOnly, f.dir) {
			continue
		}
		for _, i := range f.imports {
			if i == "shopfloat/internal/chat" {
				seen++
			}
			if strings.HasPrefix(i, "shopfloat/internal/dialogs") {
				t.Errorf("%s imports %s; what it needs belongs into internal/chat", f.path, i)
			}
		}
	}
	if seen < 18 {
		t.Errorf("only %d files import the seam", seen)
	}
}

// How much may stand together, tests left out.
const (
	roomLines  = 3000   // of a package
	roomShare  = 20     // of the program, in per cent
	houseLines = 15_800 // of all dialogs together
	houseShare = 25     // of the program, in per cent, for all dialogs together
	fileLines  = 500
	funcLines  = 60
	funcUsual  = 27 // of nineteen functions in twenty
	houseUsual = 25 // the same in the dialogs

	// parted by whoever changes them next; why they are large stands in them
	largeRooms = "internal/botapitest"
)

func TestRoomsStaySmall(t *testing.T) {
	lines, all := map[string]int{}, 0
	for _, f := range sources(t) {
		n := strings.Count(f.source, "\n")
		lines[f.dir] += n
		all += n
		if n > fileLines {
			t.Errorf("%s has %d lines, at most %d", f.path, n, fileLines)
		}
	}
	for dir, n := range lines {
		if n*100 > all*roomShare || n > roomLines && !strings.Contains(largeRooms, dir) {
			t.Errorf("%s has %d lines of %d", dir, n, all)
		}
	}
}

// The dialogs ask and answer. What is told, worked out or read belongs below them.
func TestTheHouseStaysSmall(t *testing.T) {
	lines, all := 0, 0
	for _, f := range sources(t) {
		n := strings.Count(f.source, "\n")
		all += n
		if strings.HasPrefix(f.dir, "internal/dialogs") && f.dir != "internal/dialogs/floor" {
			lines += n
		}
	}
	if lines > houseLines || lines*100 > all*houseShare || lines == 0 {
		t.Errorf("the dialogs have %d lines of %d, at most %d and %d %%", lines, all, houseLines, houseShare)
	}
}

func TestFunctionsStayShort(t *testing.T) {
	var sizes, house []int
	for _, path := range goFiles(t) {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, path, src, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range parsed.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok {
				n := set.Position(fn.End()).Line - set.Position(fn.Pos()).Line + 1
				sizes = append(sizes, n)
				if strings.Contains(filepath.ToSlash(path), "internal/dialogs/") {
					house = append(house, n)
				}
				if n > funcLines {
					t.Errorf("%s: %s has %d lines, at most %d", filepath.ToSlash(path), fn.Name.Name, n, funcLines)
				}
			}
		}
	}
	for _, x := range []struct {
		sizes []int
		most  int
	}{{sizes, funcUsual}, {house, houseUsual}} {
		slices.Sort(x.sizes)
		if p95 := x.sizes[len(x.sizes)*95/100]; p95 > x.most {
			t.Errorf("of %d functions one in twenty has more than %d lines, want %d", len(x.sizes), p95, x.most)
		}
	}
}
