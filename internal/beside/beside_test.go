package beside_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"shopfloat/internal/beside"
)

// Files of one name do not replace one another, the same one is written once, and no name leads
// out of the folder.
func TestKeep(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "shop.db.files")
	var names []string
	for _, data := range []string{"a", "b", "a", "b", "c"} {
		path, err := beside.Keep(folder, "../day.csv", []byte(data))
		if err != nil {
			t.Fatal(err)
		}
		if there, err := os.ReadFile(path); err != nil || string(there) != data {
			t.Errorf("%s: %q, %v", path, there, err)
		}
		if filepath.Dir(path) != folder {
			t.Errorf("written to %s", path)
		}
		names = append(names, filepath.Base(path))
	}
	want := []string{"day.csv", "day-2.csv", "day.csv", "day-2.csv", "day-3.csv"}
	if !slices.Equal(names, want) {
		t.Errorf("written to %v, want %v", names, want)
	}
}
