package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/photo"
	"shopfloat/internal/store"
)

// slipped opens a day with a photo that goes with the record.
func slipped(t *testing.T, srv *botapitest.Server, picture []byte) {
	t.Helper()
	owner := person{t, srv, owner1}
	owner.does("open 40 150 200", "€7,000")
	srv.SendPhoto(owner1, picture, "")
	owner.sees("Photo noted")
	owner.does("[Confirm]", "recorded")
}

// fetched waits until it is known what became of every photo, and ends the bot.
func fetched(t *testing.T, srv *botapitest.Server, file string, bot *program) {
	t.Helper()
	r, err := store.OpenReader(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	until(t, "the photos", func() bool {
		left, err := r.Unfetched(t.Context())
		return err == nil && len(left) == 0
	})
	settled(t, srv)
	bot.end()
	withoutToken(t, file, srv, bot)
}

// photosOf gives the content of every photo kept beside a file.
func photosOf(t *testing.T, file string) (list []string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(store.Pictures(file), "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, string(data))
	}
	return list
}

// slip is a picture; another number is another one.
func slip(t *testing.T, n uint8) []byte {
	t.Helper()
	p := image.NewGray(image.Rect(0, 0, 8, 8))
	for i := range p.Pix {
		p.Pix[i] = n * 60
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, p, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// kept is a picture as it is kept.
func kept(t *testing.T, data []byte) string {
	t.Helper()
	clean, err := photo.Clean(data)
	if err != nil {
		t.Fatal(err)
	}
	return string(clean)
}

// A slip sent during an opening is fetched, kept under the name of its digest,
// and missed by verify when somebody takes it away. The first try fails.
func TestServeKeepsPhotos(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	srv.Inject(botapitest.Fault{Kind: botapitest.ServerError, Method: "getFile"})
	bot := serve(t, srv, file)
	slipped(t, srv, slip(t, 1))
	fetched(t, srv, file, bot)
	if got := photosOf(t, file); len(got) != 1 || got[0] != kept(t, slip(t, 1)) || srv.FaultsLeft() != 0 {
		t.Fatalf("kept %q, %d faults left", got, srv.FaultsLeft())
	}
	if code, stdout, stderr := command("verify", "--db", file); code != 0 || strings.Contains(stdout, "photo") {
		t.Errorf("verify: exit %d, %s%s", code, stdout, stderr)
	}
	if err := os.RemoveAll(store.Pictures(file)); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := command("verify", "--db", file)
	const missing = "machine 1 (shop 1): BROKEN, photo 0 of entry 1 is missing from shop.db.photos\n"
	if code != 1 || !strings.HasPrefix(stdout, missing) || !strings.Contains(stdout, "what to do: ") {
		t.Errorf("verify without it: exit %d, %s%s", code, stdout, stderr)
	}
}

// A photo that cannot be had is asked for once, holds up no other one, and
// stands in what verify prints.
func TestServeGivesAPhotoUp(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		photo []byte
		lost  bool
	}{"no picture": {photo: make([]byte, 3<<20)}, "gone": {photo: slip(t, 1), lost: true}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			srv, file := standIn(t, owner1), seeded(t, 1)
			bot := serve(t, srv, file)
			owner := person{t, srv, owner1}
			owner.does("open 40 150 200", "€7,000")
			srv.SendPhoto(owner1, c.photo, "")
			owner.sees("Photo noted")
			if c.lost {
				srv.LoseFiles()
			}
			srv.SendPhoto(owner1, slip(t, 2), "")
			until(t, "the second photo", func() bool {
				said := fmt.Sprint(srv.Messages(owner1))
				return strings.Count(said, "Photo noted") == 2
			})
			owner.does("[Confirm]", "recorded")
			owner.sees("One photo did not arrive and is not kept. Please send it again")
			fetched(t, srv, file, bot)
			if got := photosOf(t, file); len(got) != 1 || got[0] != kept(t, slip(t, 2)) {
				t.Errorf("kept %d photos", len(got))
			}
			if n := srv.Report().Calls["getFile"]; n != 2 {
				t.Errorf("asked %d times", n)
			}
			code, stdout, _ := command("verify", "--db", file)
			if code != 0 ||
				!strings.HasSuffix(stdout, "machine 1 (shop 1): photo 0 of entry 1 could not be fetched\n") {
				t.Errorf("verify: exit %d, %s", code, stdout)
			}
		})
	}
}

// A kill after a photo's file is in its place and before that is noted leaves
// the file, and perhaps part of another one. The next start fetches it again:
// it is there once, and noted.
func TestServeAfterAKillBeforeThePhotoIsNoted(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	asked := make(chan struct{})
	srv.Inject(botapitest.Fault{Kind: botapitest.Slow, Method: "getFile", Wait: func(ctx context.Context) {
		close(asked)
		<-ctx.Done() // until the bot has hung up
	}})
	bot := serve(t, srv, file)
	slipped(t, srv, slip(t, 1))
	select {
	case <-asked:
	case <-time.After(patience):
		t.Fatal("the photo is not asked for")
	}
	bot.end()
	if _, err := store.SavePicture(store.Pictures(file), []byte(kept(t, slip(t, 1)))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(store.Pictures(file), "new-7"), []byte("sl"), 0o600); err != nil {
		t.Fatal(err)
	}
	code, stdout, _ := command("verify", "--db", file)
	if code != 0 || !strings.HasSuffix(stdout, "photo 0 of entry 1 is still to be fetched\n") {
		t.Errorf("verify in between: exit %d, %s", code, stdout)
	}
	fetched(t, srv, file, serve(t, srv, file))
	if got := photosOf(t, file); len(got) != 1 || got[0] != kept(t, slip(t, 1)) {
		t.Errorf("kept %q", got)
	}
	if code, stdout, _ := command("verify", "--db", file); code != 0 || strings.Contains(stdout, "photo") {
		t.Errorf("verify: exit %d, %s", code, stdout)
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

func faultsOf(t *testing.T, file string) (faults []string) {
	t.Helper()
	for _, rep := range reportsOn(t, file) {
		faults = append(faults, rep.Faults...)
	}
	return faults
}
