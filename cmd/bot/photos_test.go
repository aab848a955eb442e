package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/store"
)

// A slip sent during an opening is fetched, kept under the name of its digest,
// and missed by verify when somebody takes it away.
func TestServeKeepsPhotos(t *testing.T) {
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.does("open 40 150 200", "€7,000")
	slip := []byte("the picture of a slip")
	srv.SendPhoto(owner1, slip, "")
	owner.sees("Photo kept")
	owner.does("[Confirm]", "Opening recorded")
	kept := waitForFile(t, store.Pictures(file))
	settled(t, srv)
	bot.end()
	if data, err := os.ReadFile(kept); err != nil || !bytes.Equal(data, slip) {
		t.Fatalf("kept %q, %v", data, err)
	}
	if faults := faultsOf(t, file); len(faults) != 0 {
		t.Fatalf("faults %q", faults)
	}
	if err := os.Remove(kept); err != nil {
		t.Fatal(err)
	}
	if faults := faultsOf(t, file); len(faults) != 1 || !strings.Contains(faults[0], "photo 0 of entry 1 is missing") {
		t.Fatalf("faults %q after the photo was taken away", faults)
	}
}

// A photo that the server refuses to give is not asked for again.
func TestServeGivesAPhotoUp(t *testing.T) {
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.does("open 40 150 200", "€7,000")
	srv.SendPhoto(owner1, make([]byte, 3<<20), "")
	owner.sees("Photo kept")
	owner.does("[Confirm]", "Opening recorded")
	r, err := store.OpenReader(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	until(t, "the photo given up", func() bool {
		left, err := r.Unfetched(t.Context())
		return err == nil && len(left) == 0
	})
	settled(t, srv)
	bot.end()
	if srv.Report().Calls["getFile"] != 1 {
		t.Errorf("asked %d times for it", srv.Report().Calls["getFile"])
	}
}

// until looks again and again, beside the running bot, until something is so.
func until(t *testing.T, what string, so func() bool) {
	t.Helper()
	look := time.NewTicker(20 * time.Millisecond)
	defer look.Stop()
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	for !so() {
		select {
		case <-ctx.Done():
			t.Fatalf("waited in vain for %s", what)
		case <-look.C:
		}
	}
}

// waitForFile waits until a folder holds a whole file.
func waitForFile(t *testing.T, folder string) string {
	t.Helper()
	var list []string
	until(t, "a photo", func() bool {
		list, _ = filepath.Glob(filepath.Join(folder, strings.Repeat("[0-9a-f]", 64)))
		return len(list) == 1
	})
	return list[0]
}

func faultsOf(t *testing.T, file string) (faults []string) {
	t.Helper()
	r, err := store.OpenReader(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	reports, err := r.Verify(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, rep := range reports {
		faults = append(faults, rep.Faults...)
	}
	return faults
}
