package main

import "os"

// cli lists the commands; each stands in a file of its own.
type cli struct {
	Serve     serveCmd     `cmd:"" help:"Serve the shop on Telegram."`
	Chat      chatCmd      `cmd:"" help:"Chat in the terminal, or play a chat script."`
	Demo      demoCmd      `cmd:"" help:"Play the example day and print the conversation."`
	Reconcile reconcileCmd `cmd:"" help:"Reconcile a day given as JSON on standard input."`
	Verify    verifyCmd    `cmd:"" help:"Check the ledger; beside a running bot if there is one."`
	Seed      seedCmd      `cmd:"" help:"Write example shops into a file."`
	ClaimCode claimCodeCmd `cmd:"" help:"Print a set-up code for an owner who is locked out."`
	Sheet     sheetCmd     `cmd:"" help:"Print the paper form for when phone or line is dead."`
	Agenda    agendaCmd    `cmd:"" help:"Print what would be due if nothing got recorded."`
	Load      loadCmd      `cmd:"" help:"Advise how much to load."`
	Backtest  backtestCmd  `cmd:"" help:"Look back: what the advice would have done on the shop's own past."`
	Ask       askCmd       `cmd:"" help:"Find the guide for a question in your own words."`
	Guide     guideCmd     `cmd:"" help:"Print a guide, or the list of guides."`
	Forecast  forecastCmd  `cmd:"" help:"Forecast notes paid out from a table of past days."`
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
