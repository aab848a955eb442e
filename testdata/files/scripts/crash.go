//go:build ignore

// Command crash brings a file into a state that only a bot on a phone's chat
// can leave: messages that could not be sent, or input that was taken and not
// handled when the program was killed. It stands in for the chat server and
// starts the program that is named. README.md says how it is run.
package main

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"

	_ "modernc.org/sqlite"

	"shopfloat/internal/botapitest"
)

const gus = 4711 // the account of whoever opens the link

var (
	bot  = flag.String("bot", "", "the program")
	file = flag.String("db", "", "the file")
	code = flag.String("code", "", "the code of the link that the script printed last")
	mode = flag.String("mode", "", "unsent or waiting")
)

func main() {
	flag.Parse()
	srv := botapitest.New(botapitest.Options{Clock: time.Now})
	if err := srv.Start(); err != nil {
		log.Fatal(err)
	}
	defer srv.Close()
	srv.AddUser(gus, "Gus")
	p := start(srv)
	srv.SendText(gus, "/start "+*code)
	until(srv, func(v botapitest.Snapshot) bool {
		m, _ := v.Last(gus)
		return strings.Contains(m.Text, "Welcome, Gus")
	})
	until(srv, func(v botapitest.Snapshot) bool { return v.Pending() == 0 && v.Polling() })
	if *mode == "unsent" {
		unsent(srv, p)
	} else {
		waiting(srv, p)
	}
}

// unsent leaves two answers in the outbox: the chat server has faults only.
func unsent(srv *botapitest.Server, p *exec.Cmd) {
	srv.Inject(botapitest.Fault{Kind: botapitest.ServerError, Method: "sendMessage", Times: 1000})
	srv.SendText(gus, "level 39 149 199")
	until(srv, func(botapitest.Snapshot) bool {
		return ask("SELECT count(*) FROM entry WHERE kind = 'level'") == 1
	})
	srv.SendText(gus, "history")
	until(srv, func(botapitest.Snapshot) bool {
		return ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL AND chat LIKE 'tg:%'") == 2
	})
	end(p, syscall.SIGTERM)
	fmt.Println("unsent:", ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"))
}

// waiting kills the program while it handles the first of thirty messages that
// came while it was away.
func waiting(srv *botapitest.Server, p *exec.Cmd) {
	end(p, syscall.SIGTERM)
	for n := range 30 {
		srv.SendText(gus, fmt.Sprintf("level %d %d %d", 39-n, 149-n, 199-n))
	}
	p = start(srv)
	for {
		if n := ask("SELECT count(*) FROM inbox WHERE status = 0"); n > 0 {
			break
		}
	}
	end(p, syscall.SIGKILL)
	fmt.Println("waiting:", ask("SELECT count(*) FROM inbox WHERE status = 0"))
}

func start(srv *botapitest.Server) *exec.Cmd {
	p := exec.Command(*bot, "serve", "--rate", "0", "--log-level", "error")
	p.Env = append(os.Environ(),
		"SHOPFLOAT_TOKEN="+srv.Token(), "SHOPFLOAT_API_URL="+srv.URL(), "SHOPFLOAT_DB="+*file)
	p.Stdout, p.Stderr = os.Stdout, os.Stderr
	if err := p.Start(); err != nil {
		log.Fatal(err)
	}
	return p
}

// end stops the program. On its clean stop nobody else may have the file open,
// or the log would stay.
func end(p *exec.Cmd, s syscall.Signal) {
	if reader != nil && s == syscall.SIGTERM {
		_ = reader.Close()
		reader = nil
	}
	_ = p.Process.Signal(s)
	_ = p.Wait()
}

func until(srv *botapitest.Server, ok func(botapitest.Snapshot) bool) {
	for range 3000 {
		done := false
		srv.View(func(v botapitest.Snapshot) { done = ok(v) })
		if done {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	log.Fatal("waited in vain")
}

var reader *sql.DB

// ask reads the file beside the program; the log stays as the program left it
// because this connection never writes and ends with the process.
func ask(query string) (n int) {
	var err error
	if reader == nil {
		if reader, err = sql.Open("sqlite", "file:"+*file+"?mode=ro"); err != nil {
			log.Fatal(err)
		}
	}
	if err := reader.QueryRowContext(context.Background(), query).Scan(&n); err != nil {
		log.Print(err)
		return -1
	}
	return n
}
