package botapitest_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// FACTS.md A, Commands: limits and leniency.
func TestCommandLimits(t *testing.T) {
	list := func(name, text string, n int) string {
		one := fmt.Sprintf(`{"command":%q,"description":%q},`, name, text)
		return "[" + strings.TrimSuffix(strings.Repeat(one, n), ",") + "]"
	}
	for _, tt := range []struct{ name, list, want string }{
		{"one", list("open", "Open", 1), ""},
		{"slash and spaces", list(" /open ", " Open ", 1), ""},
		{"100", list("open", "Open", 100), ""},
		{"101", list("open", "Open", 101), "Bad Request: BOT_COMMANDS_TOO_MUCH"},
		{"32 letters", list(strings.Repeat("a", 32), "Open", 1), ""},
		{"33 letters", list(strings.Repeat("a", 33), "Open", 1),
			"Bad Request: command length must not exceed 32"},
		{"capital", list("Open", "Open", 1), "Bad Request: BOT_COMMAND_INVALID"},
		{"no name", list("/", "Open", 1), "Bad Request: command must be non-empty"},
		{"no text", list("open", " ", 1), "Bad Request: command description must be non-empty"},
		{"256 letters", list("open", strings.Repeat("é", 256), 1), ""},
		{"257 letters", list("open", strings.Repeat("é", 257), 1),
			"Bad Request: command description length must not exceed 256"},
		{"no list", "x", "Bad Request: can't parse commands JSON object"},
	} {
		srv := withAnn(t, botapitest.Options{})
		want(t, tt.name, call(t, srv, "setMyCommands", "commands", tt.list), tt.want)
	}
}

// A list belongs to one scope and language; deleting one leaves the others (FACTS.md A).
func TestCommandScopes(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	const open = `[{"command":"open","description":"Open"}]`
	const top = `[{"command":"top","description":"Top up"}]`
	chat := fmt.Sprintf(`{"type":"chat","chat_id":%d}`, ann)
	get := func(scope, language string) string {
		r := call(t, srv, "getMyCommands", "scope", scope, "language_code", language)
		return string(r.Result)
	}
	want(t, "default", call(t, srv, "setMyCommands", "commands", open), "")
	want(t, "chat", call(t, srv, "setMyCommands", "commands", top, "scope", chat, "language_code", "de"), "")
	for _, tt := range []struct{ scope, language, want string }{
		{"", "", open}, {`{"type":"default"}`, "", open}, {"", "de", "[]"},
		{chat, "", "[]"}, {chat, "de", top},
	} {
		if got := get(tt.scope, tt.language); got != tt.want {
			t.Errorf("scope %q language %q: %s", tt.scope, tt.language, got)
		}
	}
	want(t, "delete", ask(t, srv, "deleteMyCommands", ""), "")
	if got := get("", "") + get(chat, "de"); got != "[]"+top {
		t.Errorf("after deleting: %s", got)
	}
}

func TestCommandScopeErrors(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	const unsupported = "Bad Request: can't parse BotCommandScope: unsupported type specified"
	for _, tt := range []struct{ scope, language, want string }{
		{`{"type":"moon"}`, "", unsupported},
		{`{"type":"chat"}`, "", unsupported},
		{`{"type":"chat_member","chat_id":1001}`, "", unsupported},
		{`{"type":"chat_member","chat_id":1001,"user_id":1001}`, "", ""},
		{`{"type":"chat","chat_id":5}`, "", "Bad Request: chat not found"},
		{"x", "", "Bad Request: can't parse BotCommandScope JSON object"},
		{"", "eng", "Bad Request: invalid language code specified"},
		{"", "EN", "Bad Request: invalid language code specified"},
	} {
		for _, method := range []string{"getMyCommands", "deleteMyCommands", "setMyCommands"} {
			r := call(t, srv, method, "commands", "[]", "scope", tt.scope, "language_code", tt.language)
			want(t, method+" "+tt.scope+tt.language, r, tt.want)
		}
	}
}

// Settings nothing depends on are accepted.
func TestAcceptedSettings(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	for _, method := range []string{
		"setMyName", "setMyDescription", "setMyShortDescription", "setChatMenuButton",
	} {
		if !decode[bool](t, ask(t, srv, method, "{}")) {
			t.Errorf("%s is not true", method)
		}
	}
}
