package dialogs

import "slices"

// dialogs lists every dialog.
func (e *Engine) dialogs() []*flow {
	busy := busyFlow()
	busy.screens["ask"] = e.busyScreen()
	switching := switchFlow()
	which := switching.screens["which"]
	which.tap = e.turnTo
	switching.screens["which"] = which
	return []*flow{
		openingFlow(), differentFlow(), closingFlow(), finishFlow(), topUpFlow(), swapFlow(), moveFlow(), testFlow(),
		foundFlow(), levelFlow(), spotFlow(), secondFlow(), settleFlow(), printedFlow(), undoFlow(), e.earlierFlow(), busy,
		shiftFlow(), holdFlow(), hoursFlow(),
		loadFlow(), cashFlow(),
		e.numbersFlow(), visitFlow(), setupFlow(), settingsFlow(), inviteFlow(), peopleFlow(), lostPhoneFlow(), myCodeFlow(), switching,
		creditFlow(), debitFlow(), matchFlow(), correctFlow(),
	}
}

// blindScreens names, by dialog, the screens at which nobody may see what
// should be in the machine.
var blindScreens = map[string][]string{
	"open":   {"inside", "inside-tray"},
	"close":  countScreens,
	"finish": countScreens,
	"spot":   countScreens,
	"visit":  visitCounts,
	"second": append([]string{"compare"}, countScreens...),
}

// blind reports whether the dialog under way is at such a screen.
func (s State) blind() bool { return slices.Contains(blindScreens[s.Flow], s.Step) }
