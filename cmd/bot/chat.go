package main

import (
	"cmp"
	"crypto/rand"
	"errors"
	"os"
	"path/filepath"
	"time"

	"shopfloat/internal/terminal"
)

// chatCmd opens the chat in the terminal, or plays a chat script.
type chatCmd struct {
	DB     string `placeholder:"FILE" help:"The file to work on."`
	Script string `placeholder:"FILE" help:"Play a chat script, - from standard input."`
	As     string `default:"owner" placeholder:"NAME" help:"Who speaks first: owner, staff1, staff2, anybody."`
	Empty  bool   `help:"Leave a fresh file without the example shop."`
	Files  string `placeholder:"DIR" help:"Folder of the files that @file sends; else that of the script."`
	Guides string `arg:"env:SHOPFLOAT_GUIDES" placeholder:"DIR" help:"Folder of your own NAME.guide files."`
}

// Help tells what the lines of a script are; it is part of chat --help.
func (chatCmd) Help() string {
	return `Typed by hand the file is --db, else $SHOPFLOAT_DB, else ` + demoFile + `. A
script without --db plays on a fresh file that is thrown away. Lines: a message;
[Label] taps the newest button that begins so, [Label]~ one already replaced;
@as NAME; @photo slip; @file NAME; @start CODE; @2026-11-25 07:40 sets the clock of a
script; @down 08:00-11:00 stops it for a while; @restart; # comment;
\ before a first #, @ or [ sends it; \n breaks a line.`
}

// demoFile holds the example shop of whoever tries the chat.
const demoFile = "shopfloat-demo.db"

// Run carries on the conversation to the end of its input.
func (c *chatCmd) Run(e *env) error {
	if line, err := terminal.ParseLine("@as " + c.As); err != nil || line.Verb != terminal.As {
		return misuse(errors.New("--as: want a name of small letters and digits, like staff1"))
	}
	if c.Script != "" {
		return c.play(e)
	}
	return c.converse(e)
}

func (c *chatCmd) play(e *env) error {
	in, folder := e.stdin, ""
	if c.Script != "-" {
		file, err := os.Open(c.Script)
		if err != nil {
			return misuse(err)
		}
		defer func() { _ = file.Close() }()
		in, folder = file, filepath.Dir(c.Script)
	}
	return playScript(e, in, stage{file: c.DB, files: cmp.Or(c.Files, folder), speaker: c.As, empty: c.Empty,
		guides: c.Guides})
}

// converse lets a person type, at the time it is.
func (c *chatCmd) converse(e *env) (err error) {
	file := cmp.Or(c.DB, os.Getenv("SHOPFLOAT_DB"), demoFile)
	f, err := prepare(e.ctx, file, time.Now(), rand.Reader, c.Empty)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.close()) }()
	f.files = c.Files
	if f.guiding, err = guiding(e, c.Guides); err != nil {
		return err
	}
	t, err := newTalk(e, f, time.Now, rand.Reader)
	if err != nil {
		return err
	}
	t.Speaker, t.Known, t.Keep = c.As, f.known, f.keep
	t.Transcript.Colour = isScreen(e.stdout) && os.Getenv("NO_COLOR") == ""
	beat := time.NewTicker(beatEvery)
	defer beat.Stop()
	chat := terminal.Chat{Talk: t, Screen: isScreen(e.stdin) && isScreen(e.stdout), Beat: beat.C}
	return chat.Run(e.ctx, e.stdin)
}

// beatEvery is how late a reminder may be in a chat that waits for its person.
const beatEvery = 10 * time.Second

// isScreen reports whether a stream is a terminal and not a file or pipe.
func isScreen(stream any) bool {
	file, ok := stream.(*os.File)
	if !ok {
		return false
	}
	info, err := file.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
