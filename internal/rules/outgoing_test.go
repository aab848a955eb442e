package rules

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What reads a bank's files and writes a bookkeeper's decides without disk or
// clock, too; the libraries for it have one home each.
func init() {
	pure = append(pure, "settling", "journal", "tally", "monthfile", "workbook", "filed")
	only["github.com/xuri/excelize/v2"] = []string{"internal/workbook"}
	only["shopfloat/internal/workbook"] = []string{"cmd/bot"} // it is handed to the engine
	only["github.com/go-pdf/fpdf"] = []string{"internal/filed"}
}

// One module of the libraries' own calls methods by name, so that the linker would have to keep every
// method of every type: the program would be 3.4 MB larger.
func TestNoModuleKeepsAllMethods(t *testing.T) {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(mod), "github.com/tiendc/go-deepcopy") {
		t.Error("go.mod has go-deepcopy: a library came in, or went up, that needs it")
	}
}
