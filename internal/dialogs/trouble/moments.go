package trouble

import (
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
)

// TroubleMoments are an emergency, the guide under way, and words that are a question.
func TroubleMoments() engine.Moments {
	return engine.Moments{
		Alarm: emergency,
		Beside: func(c *engine.Talk, f *engine.Flow) bool {
			return f == nil && walkTyped(c)
		},
		Weighs: weighQuestion,
		Stray: func(c *engine.Talk, f *engine.Flow) bool {
			return f != nil && walkTyped(c) || searched(c, f)
		},
		Pictured: pictured, Redrawn: walkAgain, Cancelled: walkCancelled,
		Matters: []engine.Matter{
			{Prefix: trade.FaultName, Task: reminders.Fault, Began: faultBegan, Tell: tellFault}},
	}
}

// emergency sees to words about one, whatever is under way.
func emergency(c *engine.Talk) bool {
	switch {
	case danger(c):
		alarm(c)
	case injury(c):
		firstAid(c)
	default:
		return false
	}
	return true
}

// weighQuestion offers what a plain sentence may mean, and takes words that are
// clearly a question for no command. In a robbery nothing is asked.
func weighQuestion(
	c *engine.Talk,
	f *engine.Flow,
	cmd *engine.Command,
	rest string,
) (means *engine.Command, taken bool) {
	if f == nil && !c.Quiet() && (offered(c, cmd, rest) || foundTyped(c)) {
		return cmd, true
	}
	if asks(c, cmd, rest) {
		cmd = nil
	}
	if c.Quiet() && (cmd == nil || cmd.Plea) {
		walkCard(c, false) // whatever is typed now, nothing is asked
		return cmd, true
	}
	return cmd, false
}

// walkCancelled leaves the guide of this machine, if one is under way.
func walkCancelled(c *engine.Talk) bool {
	if c.State.Walk == nil || c.State.Walk.Machine != c.M.ID {
		return false
	}
	stopWalk(c)
	return true
}
