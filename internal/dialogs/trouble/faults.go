package trouble

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/incidents"
	"shopfloat/internal/telling"
)

// FaultsCommand looks back at incidents.
func FaultsCommand() engine.Command { return tells(engine.DoFaults, faults) }

// faults lists the incidents of the last months, and how long the machine was
// out of service in each month.
func faults(c *engine.Talk) {
	body := incidents.Faults(c.Teller)
	if body == nil {
		c.Say(c.V.Say("faults-none"))
		return
	}
	_, rows := telling.OpenFaults(c.Teller)
	c.Send(chat.Reply{Body: body, Buttons: rows})
}
