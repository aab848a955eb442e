package desk_test

import (
	"os"
	"testing"

	"shopfloat/internal/checks"
)

func TestMain(m *testing.M) { os.Exit(checks.FilesInMemory(m)) }
