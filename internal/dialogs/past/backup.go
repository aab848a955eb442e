package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// BackupCommand tells when the last copy of the bot's memory was made.
func BackupCommand() engine.Command {
	return engine.Command{Name: engine.DoBackup, Run: func(c *engine.Talk) { c.Say(telling.Memory(c.Teller)) },
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpMore, Takes: engine.OnlyFigures}
}
