package access_test

import (
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
