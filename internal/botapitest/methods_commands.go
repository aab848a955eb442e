package botapitest

import (
	"encoding/json"
	"strings"
	"unicode/utf8"
)

const (
	maxCommands    = 100 // per scope and language, API setMyCommands
	maxCommandName = 32  // of a-z 0-9 _
	maxCommandText = 256 // characters
)

// Command is one entry of the bot's menu.
type Command struct {
	Command     string `json:"command"`
	Description string `json:"description"`
}

// scope is a BotCommandScope; its JSON form plus the language is the key of a list.
type scope struct {
	Type string      `json:"type"`
	Chat json.Number `json:"chat_id,omitempty"`
	User json.Number `json:"user_id,omitempty"`
}

// chats says how many ids a scope needs: 0 none, 1 a chat, 2 a chat and a user; -1 for an unknown scope.
func (sc scope) ids() int {
	switch sc.Type {
	case "default", "all_private_chats", "all_group_chats", "all_chat_administrators":
		return 0
	case "chat", "chat_administrators":
		return 1
	case "chat_member":
		return 2
	}
	return -1
}

// commandsKey reads scope and language.
func (s *Server) commandsKey(c *call) (string, *apiError) {
	sc := scope{Type: "default"}
	if raw := c.raw("scope"); len(raw) > 0 {
		if err := json.Unmarshal(raw, &sc); err != nil {
			return "", badRequest("can't parse BotCommandScope JSON object")
		}
	}
	ids := sc.ids()
	if ids < 0 || ids > 0 && sc.Chat == "" || ids > 1 && sc.User == "" {
		return "", badRequest("can't parse BotCommandScope: unsupported type specified")
	}
	language := c.text("language_code")
	if !isLanguage(language) {
		return "", badRequest("invalid language code specified")
	}
	if id, _ := sc.Chat.Int64(); ids > 0 && s.chats[id] == nil {
		return "", badRequest("chat not found")
	}
	return sc.Type + " " + sc.Chat.String() + " " + sc.User.String() + " " + language, nil
}

func isLanguage(code string) bool {
	letters := strings.Trim(code, "abcdefghijklmnopqrstuvwxyz") == ""
	return code == "" || len(code) == 2 && letters
}

// setMyCommands stores a list for a scope and language.
func (s *Server) setMyCommands(c *call) *apiError {
	var list []Command
	if err := json.Unmarshal(c.raw("commands"), &list); err != nil {
		return badRequest("can't parse commands JSON object")
	}
	if len(list) > maxCommands {
		return badRequest("BOT_COMMANDS_TOO_MUCH") // from memory
	}
	for i := range list {
		if err := list[i].check(); err != nil {
			return err
		}
	}
	stored, err := json.Marshal(list)
	if err != nil {
		return badRequest("can't parse commands JSON object")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	key, bad := s.commandsKey(c)
	if bad != nil {
		return bad
	}
	s.commands[key] = stored
	return c.yes()
}

// check strips what the platform strips, then applies its limits. Error texts from memory.
func (cmd *Command) check() *apiError {
	cmd.Command = strings.TrimPrefix(strings.TrimSpace(cmd.Command), "/")
	cmd.Description = strings.TrimSpace(cmd.Description)
	rest := strings.Trim(cmd.Command, "abcdefghijklmnopqrstuvwxyz0123456789_")
	switch {
	case cmd.Command == "":
		return badRequest("command must be non-empty")
	case len(cmd.Command) > maxCommandName:
		return badRequest("command length must not exceed 32")
	case rest != "":
		return badRequest("BOT_COMMAND_INVALID")
	case cmd.Description == "":
		return badRequest("command description must be non-empty")
	case utf8.RuneCountInString(cmd.Description) > maxCommandText:
		return badRequest("command description length must not exceed 256")
	}
	return nil
}

// getMyCommands gives the list of exactly this scope and language, empty if none was set.
func (s *Server) getMyCommands(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	key, err := s.commandsKey(c)
	if err != nil {
		return err
	}
	if list, ok := s.commands[key]; ok {
		c.out = append(c.out, list...)
	} else {
		c.out = append(c.out, "[]"...)
	}
	return nil
}

// deleteMyCommands forgets the list of a scope and language.
func (s *Server) deleteMyCommands(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	key, err := s.commandsKey(c)
	if err != nil {
		return err
	}
	delete(s.commands, key)
	return c.yes()
}
