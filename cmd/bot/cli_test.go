package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// Every setting with its default and its variable stands in the help.
func TestHelp(t *testing.T) {
	const db = "[default: shopfloat.db, env: SHOPFLOAT_DB]"
	for line, wants := range map[string][]string{
		"--help": {"SHOPFLOAT_TOKEN", "serve ", "chat ", "demo ", "reconcile ", "verify ", "seed ", "claim-code ",
			"sheet ", "agenda ", "load ", "backtest ", "ask ", "guide ", "forecast ",
			"Print a guide, or the list of guides."},
		"-h": {"Commands:"},
		"serve --help": {"Serve the shop on Telegram.", "--token TOKEN", "[env: SHOPFLOAT_TOKEN]", "--api-url URL",
			"[default: https://api.telegram.org, env: SHOPFLOAT_API_URL]", "--db FILE", db, "--rate N",
			"[default: 30]", "--guides DIR", "[env: SHOPFLOAT_GUIDES]", "--log-level LEVEL",
			"debug,info,warn,error. [default: info]"},
		"serve --rate --help": {"--api-url URL"},
		"chat -h": {"--db FILE", "--script FILE", "--as NAME", "[default: owner]", "--empty", "--guides DIR",
			"$SHOPFLOAT_DB", demoFile, `\ before a first #`, `\n breaks`},
		"demo --help":       {"Play the example day"},
		"reconcile --help":  {`{"currency":"EUR"`, "--batch"},
		"verify --help":     {"--db FILE", db, "--word WORD"},
		"seed --help":       {"--shops N", "--owner USER", db},
		"claim-code --help": {db, "--shop NUMBER", "--new", "--lost"},
		"sheet --help":      {"paper form", "--db FILE", "[env: SHOPFLOAT_DB]", "--shop NUMBER"},
		"agenda --help":     {db, "--at TIME", "--days N", "[default: 7]", "the rung of its ladder"},
		"load --help":       {db, "--on DATE", "--shop NUMBER", "[default: 1]", "--png FILE"},
		"backtest --help":   {db, "--days N", "[default: 365]", "--shop NUMBER", "--png FILE"},
		"statement --help":  {"FILE", db, "--shop NUMBER", "--dry-run", "--json", "--dates ORDER", "never books"},
		"export --help": {db, "--month MONTH", "--day DATE", "--format NAME", "[default: csv]",
			"--paper SIZE", "--out"},
		"journal --help": {db, "--from DATE", "--to DATE", "--format NAME", "[default: plain]", "--out FILE"},
		"ask --help":     {"TEXT", "--batch", "--guides DIR", "[env: SHOPFLOAT_GUIDES]", "--country CC"},
		"guide --help":   {"ID", "Which guide", "--guides DIR", "--country CC"},
		"forecast --help": {"--in FILE", "--days H", "--from DATE", "--quantiles LIST",
			"[default: 0.5,0.9,0.95,0.98]",
			"--priors PRIORS", "[default: shipped]", "--label-shift N", "--country COUNTRY", "[default: GB]"},
	} {
		code, stdout, stderr := command(strings.Fields(line)...)
		if code != 0 || stderr != "" {
			t.Errorf("%s: exit %d, %s", line, code, stderr)
		}
		for _, want := range wants {
			if !strings.Contains(stdout, want) {
				t.Errorf("%s: no %q in\n%s", line, want, stdout)
			}
		}
	}
}

// What cannot be used ends with exit code 2 and one line that names it.
func TestCommandLineErr(t *testing.T) {
	none := filepath.Join(t.TempDir(), "none")
	for line, want := range map[string]string{
		"nosuch":   "no such command; bot --help lists them: nosuch",
		"--nosuch": "unknown flag --nosuch",
		"--":       "say a command",
		"serve": "serve needs the bot's token: --token TOKEN (or " +
			"environment variable SHOPFLOAT_TOKEN)",
		"serve --token":                            "missing value for --token",
		"serve --nosuch":                           "unknown flag --nosuch",
		"serve --token x --rate many":              `--rate: want a whole number, got "many"`,
		"serve --token x --rate -1":                "--rate -1: want 0 or more",
		"serve --token x --log-level loud":         "--log-level loud: want debug, info, warn or error",
		"serve --token x --guides " + none:         "--guides " + none + ": there is no such folder",
		"chat --script " + none + " extra":         "one word too many: 'extra'",
		"guide --guides " + none:                   "--guides " + none + ": there is no such folder",
		"guide power offline":                      "one word too many: 'offline'",
		"ask notes stuck -5":                       "unknown flag -5",
		"reconcile --batch=maybe":                  `--batch=maybe: want true or false, got "maybe"`,
		"seed --db " + none:                        "--shops",
		"seed --shops 1 --owner 5 --db " + none:    "not both",
		"seed --shops 99999999999999999999":        "which is too large",
		"forecast":                                 "forecast needs a table: --in FILE",
		"forecast --in x --days=H":                 `--days=H: want a whole number, got "H"`,
		"forecast --in x --quantiles 0.5,x":        `--quantiles: want numbers with commas between, got "x"`,
		"forecast --in x --quantiles 0.5,1.5":      "--quantiles 1.5: want more than 0 and less than 1",
		"forecast --in x --priors some":            "--priors some: want none or shipped",
		"forecast --in " + none + " --days":        "missing value for --days",
		"forecast --in " + none + " --country=x y": "one word too many: 'y'",
	} {
		code, stdout, stderr := command(strings.Fields(line)...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%s: exit %d, %q, want %q\n%s", line, code, stderr, want, stdout)
		}
	}
}

// forecasting is what a command line asks of forecast.
func forecasting(t *testing.T, args ...string) *forecastCmd {
	t.Helper()
	got, err := parse(append([]string{"forecast", "--in", "x"}, args...))
	if err != nil {
		t.Fatal(err)
	}
	c, ok := got.(*forecastCmd)
	if !ok {
		t.Fatalf("%T", got)
	}
	return c
}

func TestForecastFlags(t *testing.T) {
	c := forecasting(t)
	if len(c.Quantiles) != 4 || c.Quantiles[3] != 0.98 || c.Country != "GB" || c.Priors != "shipped" {
		t.Errorf("defaults: %+v", c)
	}
	c = forecasting(t, "--quantiles", "0.5,0.9", "--label-shift", "-1", "--country=", "--days", "3")
	if len(c.Quantiles) != 2 || c.Quantiles[1] != 0.9 || c.LabelShift != -1 || c.Country != "" || c.Days != 3 {
		t.Errorf("given: %+v", c)
	}
	c = forecasting(t, "--quantiles=0.5", "--quantiles=0.9", "--country", "")
	if len(c.Quantiles) != 2 || c.Country != "" {
		t.Errorf("twice: %+v", c)
	}
}

// A flag wins over the environment, the environment over the default.
func TestSettingsFromTheEnvironment(t *testing.T) {
	t.Setenv("SHOPFLOAT_TOKEN", "secret")
	t.Setenv("SHOPFLOAT_API_URL", "http://localhost:1")
	t.Setenv("SHOPFLOAT_DB", "env.db")
	t.Setenv("SHOPFLOAT_GUIDES", "own")
	got, err := parse([]string{"serve", "--db", "flag.db"})
	if err != nil {
		t.Fatal(err)
	}
	want := serveCmd{
		Token:    "secret",
		APIURL:   "http://localhost:1",
		DB:       "flag.db",
		Rate:     30,
		Guides:   "own",
		copies:   copies{BackupDays: 14, BackupMonths: 12},
		LogForm:  "text",
		LogLevel: "info",
	}
	if c := *got.(*serveCmd); c != want {
		t.Errorf("got %+v, want %+v", c, want)
	}
	if _, stdout, _ := command("serve", "--help"); strings.Contains(stdout, "secret") {
		t.Error("the help shows the token")
	}
}

func TestWithoutACommand(t *testing.T) {
	if got, err := parse(withDefault(nil)); err != nil || got.(*chatCmd).As != "owner" {
		t.Errorf("without a token: %T %v", got, err)
	}
	t.Setenv("SHOPFLOAT_TOKEN", "secret")
	if got, err := parse(withDefault(nil)); err != nil || got.(*serveCmd).DB != "shopfloat.db" {
		t.Errorf("with a token: %T %v", got, err)
	}
}

// After two hyphens everything is the question.
func TestAskWords(t *testing.T) {
	for line, want := range map[string]string{
		"ask notes stuck":              "notes stuck",
		"ask --country gb notes stuck": "notes stuck",
		"ask -- --country=":            "--country=",
	} {
		got, err := parse(strings.Fields(line))
		if err != nil {
			t.Fatal(err)
		}
		if text := strings.Join(got.(*askCmd).Text, " "); text != want {
			t.Errorf("%s: %q", line, text)
		}
	}
}
