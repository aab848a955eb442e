// Command reach prints what one message runs through: the functions whose
// coverage counters rise because of a "40" that answers a count question of an
// opening in the terminal. Run it anywhere in the module:
//
//	go run ./internal/bench/reach [-list] [-max N] [-max-dialogs N]
//
// It fails above a ceiling: on all functions, or on those that decide what to
// ask next and read the answer (internal/dialogs with its rooms, internal/chat,
// internal/counts). 0 is no ceiling.
package main

import (
	"bytes"
	"cmp"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// The opening is asked one by one; the message is the answer to its first question.
const (
	before  = "@as staff1\nopen\n"
	message = "40\n"
)

func main() {
	list := flag.Bool("list", false, "name every function")
	var most ceilings
	flag.IntVar(&most.all, "max", 0, "fail above `N` functions")
	flag.IntVar(&most.dialogs, "max-dialogs", 0, "fail above `N` functions of dialogs, chat and counts")
	flag.Parse()
	if err := reach(os.Stdout, *list, most); err != nil {
		fmt.Fprintln(os.Stderr, "reach:", err)
		os.Exit(1)
	}
}

// reach plays the opening without the message and with it, and prints what differs.
func reach(out io.Writer, list bool, most ceilings) (err error) {
	mod, err := command("go", "list", "-m", "-f", "{{.Path}} {{.Dir}}")
	if err != nil {
		return err
	}
	path, root, found := strings.Cut(strings.TrimSpace(mod), " ")
	if !found {
		return fmt.Errorf("no module here: %q", mod)
	}
	dir, err := os.MkdirTemp("", "reach-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	bot := filepath.Join(dir, "bot")
	_, err = command("go", "build", "-C", root,
		"-cover", "-covermode=atomic", "-coverpkg=./...", "-o", bot, "./cmd/bot")
	if err != nil {
		return err
	}
	said, without, err := plays(bot, filepath.Join(dir, "without"), before, profile.atMost)
	if err != nil {
		return err
	}
	heard, with, err := plays(bot, filepath.Join(dir, "with"), before+message, profile.atLeast)
	if err != nil {
		return err
	}
	answer, same := strings.CutPrefix(heard, said)
	if !same || strings.Count(answer, "how many notes are in it?") != 1 {
		return fmt.Errorf("the message was not taken as a count:\n%s", heard)
	}
	raised, err := functions(risen(without, with), func(file string) string {
		return filepath.Join(root, filepath.FromSlash(strings.TrimPrefix(file, path+"/")))
	})
	if err != nil {
		return err
	}
	if err := report(out, raised, list); err != nil {
		return err
	}
	return most.check(raised, path)
}

// ceilings are the most functions that a message may run through; 0 is no ceiling.
type ceilings struct{ all, dialogs int }

// check compares them with the functions that a message ran through. Module is
// the path of the module, which the packages' paths begin with.
func (most ceilings) check(raised []function, module string) error {
	dialogs := 0
	for _, f := range raised {
		for _, name := range []string{"dialogs", "chat", "counts"} {
			if strings.HasPrefix(f.file, module+"/internal/"+name+"/") {
				dialogs++
			}
		}
	}
	var errs []error
	if most.all > 0 && len(raised) > most.all {
		errs = append(errs, fmt.Errorf("%d functions, %d are the most", len(raised), most.all))
	}
	if most.dialogs > 0 && dialogs > most.dialogs {
		errs = append(errs, fmt.Errorf("%d functions of dialogs, chat and counts, %d are the most",
			dialogs, most.dialogs))
	}
	return errors.Join(errs...)
}

// rounds is how often each script is played: sorting the keys of a map takes a number of
// comparisons that differs from run to run, and is not due to the message.
const rounds = 5

// plays plays a chat script several times and gives what was said the last time, and the
// counters as join has them.
func plays(bot, dir, script string, join func(profile, profile)) (said string, p profile, err error) {
	for n := range rounds {
		var next profile
		if said, next, err = play(bot, fmt.Sprintf("%s-%d", dir, n), script); err != nil {
			return "", nil, err
		}
		if p == nil {
			p = next
		}
		join(p, next)
	}
	return said, p, nil
}

// play plays a chat script and gives what was said and the counters.
func play(bot, dir, script string) (said string, p profile, err error) {
	if err := os.Mkdir(dir, 0o700); err != nil {
		return "", nil, err
	}
	cmd := exec.Command(bot, "chat", "--script", "-")
	cmd.Env = append(os.Environ(), "GOCOVERDIR="+dir)
	cmd.Stdin = strings.NewReader(script)
	if said, err = output(cmd); err != nil {
		return "", nil, err
	}
	text := filepath.Join(dir, "profile.txt")
	if _, err := command("go", "tool", "covdata", "textfmt", "-i="+dir, "-o="+text); err != nil {
		return "", nil, err
	}
	data, err := os.ReadFile(text)
	if err != nil {
		return "", nil, err
	}
	p, err = parse(string(data))
	return said, p, err
}

func command(name string, args ...string) (string, error) { return output(exec.Command(name, args...)) }

// output runs a command; whatever it complains of is a failure.
func output(cmd *exec.Cmd) (string, error) {
	var out, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaint
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("%s: %w\n%s%s", cmd, err, &out, &complaint)
	}
	return out.String(), nil
}

// report prints the sums, by package, the most first.
func report(out io.Writer, raised []function, list bool) error {
	if len(raised) == 0 {
		return errors.New("no counter rose")
	}
	packages, files := map[string]int{}, map[string]bool{}
	for _, f := range raised {
		packages[f.pkg()]++
		files[f.file] = true
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%d functions in %d files\n", len(raised), len(files))
	names := slices.SortedFunc(maps.Keys(packages), func(x, y string) int {
		return cmp.Or(cmp.Compare(packages[y], packages[x]), cmp.Compare(x, y))
	})
	for _, name := range names {
		fmt.Fprintf(&b, "%5d %s\n", packages[name], name)
	}
	if list {
		for _, f := range raised {
			fmt.Fprintf(&b, "%s:%d %s\n", f.file, f.line, f.name)
		}
	}
	_, err := io.WriteString(out, b.String())
	return err
}
