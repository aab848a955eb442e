package access_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// letters are the roles in the order of the table's columns.
var letters = []struct {
	letter string
	role   shop.Role
}{{"o", shop.Owner}, {"m", shop.Manager}, {"s", shop.Staff}, {"b", shop.Bookkeeper}}

// rights reads the table of who may do what: the letter of each role, or a dash.
func rights(t *testing.T) map[string][]string {
	t.Helper()
	data, err := os.ReadFile("testdata/rights.txt")
	if err != nil {
		t.Fatal(err)
	}
	table := map[string][]string{}
	for line := range strings.Lines(string(data)) {
		cells := strings.Fields(line)
		if len(cells) == 0 || strings.HasPrefix(line, "#") {
			continue
		}
		if len(cells) != 1+len(letters) || table[cells[0]] != nil {
			t.Fatalf("not a line of the table: %q", line)
		}
		table[cells[0]] = cells[1:]
	}
	return table
}

// Every role and every action, as the table lays it down: 72 actions, 4 roles.
func TestWhoMayDoWhat(t *testing.T) {
	table, cells := rights(t), 0
	for action, row := range table {
		for i, col := range letters {
			if row[i] != col.letter && row[i] != "-" {
				t.Fatalf("%s: %q stands where %s belongs", action, row[i], col.letter)
			}
			if want := row[i] == col.letter; access.Allowed(col.role, action) != want {
				t.Errorf("%s, %s: allowed %t", action, col.role, !want)
			}
			cells++
		}
	}
	if cells != 72*4 {
		t.Errorf("the table has %d cells", cells)
	}
	for _, action := range access.Ruled() {
		if table[action] == nil {
			t.Errorf("the table lacks %q", action)
		}
	}
	if !slices.Equal(shop.Roles(), []shop.Role{shop.Owner, shop.Manager, shop.Staff, shop.Bookkeeper}) {
		t.Errorf("there are other roles: %v", shop.Roles())
	}
}

// What has no rule nobody may do, and who has no role may do nothing.
func TestNobodyByDefault(t *testing.T) {
	for _, role := range shop.Roles() {
		for _, action := range []string{"no such thing", "", "Open", "open "} {
			if access.Allowed(role, action) {
				t.Errorf("%s may do %q", role, action)
			}
		}
	}
	for action := range rights(t) {
		for _, role := range []shop.Role{"guest", "", "Owner"} {
			if access.Allowed(role, action) {
				t.Errorf("%q may do %s", role, action)
			}
		}
	}
}

// Who may invite, change or remove whom, all of them.
func TestMayManage(t *testing.T) {
	for role, others := range map[shop.Role]string{
		shop.Owner: "omsb", shop.Manager: "sb", shop.Staff: "", shop.Bookkeeper: "", "": "", "guest": "",
	} {
		for _, col := range letters {
			if want := strings.Contains(others, col.letter); access.MayManage(role, col.role) != want {
				t.Errorf("%q manages %s: %t", role, col.role, !want)
			}
		}
	}
	if access.MayManage(shop.Manager, "") {
		t.Error("a manager manages somebody without a role")
	}
}
