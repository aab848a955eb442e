package store_test

import (
	"os"
	"testing"

	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

func TestMain(m *testing.M) {
	store.SameSalts()
	os.Exit(checks.FilesInMemory(m))
}
