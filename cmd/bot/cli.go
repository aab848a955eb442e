package main

import (
	"errors"
	"os"
	"strings"

	"github.com/alexflint/go-arg"
)

// cli lists the commands; each stands in a file of its own.
type cli struct {
	Serve     *serveCmd     `arg:"subcommand:serve" help:"Serve the shop on Telegram."`
	Chat      *chatCmd      `arg:"subcommand:chat" help:"Chat in the terminal, or play a chat script."`
	Demo      *demoCmd      `arg:"subcommand:demo" help:"Play the example day and print the conversation."`
	Reconcile *reconcileCmd `arg:"subcommand:reconcile" help:"Reconcile a day given as JSON on standard input."`
	Verify    *verifyCmd    `arg:"subcommand:verify" help:"Check the ledger; beside a running bot if there is one."`
	Backup    *backupCmd    `arg:"subcommand:backup" help:"Copy the file; beside a running bot if there is one."`
	Restore   *restoreCmd   `arg:"subcommand:restore" help:"Put a copy in the place of a file that is gone."`
	Seed      *seedCmd      `arg:"subcommand:seed" help:"Write example shops into a file."`
	ClaimCode *claimCodeCmd `arg:"subcommand:claim-code" help:"Print a set-up code for an owner who is locked out."`
	Sheet     *sheetCmd     `arg:"subcommand:sheet" help:"Print the paper form for when phone or line is dead."`
	Agenda    *agendaCmd    `arg:"subcommand:agenda" help:"Print what would be due if nothing got recorded."`
	Load      *loadCmd      `arg:"subcommand:load" help:"Advise how much to load."`
	Backtest  *backtestCmd  `arg:"subcommand:backtest" help:"Look back: what the advice would have done on the shop's own past."`
	Leaks     *leaksCmd     `arg:"subcommand:leaks" help:"Find small differences that keep coming back."`
	Picture   *pictureCmd   `arg:"subcommand:picture" help:"Draw the month, levels, differences or faults."`
	Ask       *askCmd       `arg:"subcommand:ask" help:"Find the guide for a question in your own words."`
	Guide     *guideCmd     `arg:"subcommand:guide" help:"Print a guide, or the list of guides."`
	Export    *exportCmd    `arg:"subcommand:export" help:"Write days as files: CSV, XLSX, PDF, a journal."`
	Journal   *journalCmd   `arg:"subcommand:journal" help:"Write the ledger as a plain-text journal of double entry."`
	Statement *statementCmd `arg:"subcommand:statement" help:"Match a bank's statement to the days it pays for."`
	Forecast  *forecastCmd  `arg:"subcommand:forecast" help:"Forecast notes paid out from a table of past days."`
}

// withDefault picks the command when none is named: serve with a token, chat without.
func withDefault(args []string) []string {
	if len(args) > 0 {
		return args
	}
	if os.Getenv("SHOPFLOAT_TOKEN") != "" {
		return []string{"serve"}
	}
	return []string{"chat"}
}

// task is a command with everything it was given.
type task interface{ Run(e *env) error }

// parse reads the command that args name, from the environment and args. To
// print the help is a task, too. An error is for the person who typed args.
func parse(args []string) (task, error) {
	p, err := arg.NewParser(arg.Config{Program: "bot"}, &cli{})
	if err != nil {
		return nil, err
	}
	err = p.Parse(emptyValues(args))
	if errors.Is(err, arg.ErrHelp) {
		return helpTask{p}, nil
	}
	if errors.Is(err, arg.ErrVersion) {
		return versionTask{}, nil
	}
	if err != nil {
		return nil, errors.New(plainly.Replace(err.Error()))
	}
	t, ok := p.Subcommand().(task)
	if !ok {
		return nil, errors.New("say a command; bot --help lists them")
	}
	return t, nil
}

// emptyValues parts "--flag=" in two: the parser would take what follows for
// the value, and an empty one means something (no country, no holidays).
func emptyValues(args []string) []string {
	var out []string
	for i, a := range args {
		if a == "--" {
			return append(out, args[i:]...)
		}
		name, found := strings.CutSuffix(a, "=")
		if found && strings.HasPrefix(name, "--") && !strings.Contains(name, "=") {
			out = append(out, name, "")
			continue
		}
		out = append(out, a)
	}
	return out
}

// plainly puts the parser's errors in words for a person.
var plainly = strings.NewReplacer(
	"invalid subcommand: ", "there is no such command; bot --help lists them: ",
	"unknown argument ", "unknown flag ",
	"too many positional arguments at ", "one word too many: ",
	"TOKEN is required", "serve needs the bot's token: --token TOKEN",
	"FILE is required", "forecast needs a table: --in FILE",
	"error processing ", "",
	"strconv.ParseInt: parsing ", "want a whole number, got ",
	"strconv.ParseBool: parsing ", "want true or false, got ",
	": invalid syntax", "",
	": value out of range", ", which is too large",
)
