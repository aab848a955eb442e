package dialogs

// The names of all that can be done: dialogs, commands, and cards that stand by
// themselves. A command has the name of its dialog where it begins one of its
// own. They stand in files of the shop and in buttons, so they stay as they are.
const (
	// the day at the machine
	doOpen      = "open"
	doTopUp     = "topup"
	doSwap      = "swap"
	doMove      = "move"
	doLevel     = "level"
	doCountNow  = "count-now"
	doSpot      = "spot"
	doSecond    = "second"
	doTest      = "test"
	doFound     = "found"
	doClose     = "close"
	doFinish    = "finish"
	doSettle    = "settle"
	doPrinted   = "printed"
	doEarlier   = "earlier"
	doDifferent = "different"
	doTicks     = "ticks"
	doUndo      = "undo"
	doBusy      = "busy"
	doRenewed   = "renewed"
	doWitness   = "witness"
	doGoOn      = "go-on"

	// shifts and reminders
	doClosed    = "closed"
	doClosingAt = "closing-at"
	doOpeningAt = "opening-at"
	doUsual     = "usual"
	doIll       = "ill"
	doNobody    = "nobody"
	doDuty      = "duty"
	doShift     = "shift"
	doSay       = "say"
	doStart     = "start"
	doLater     = "later"
	doHold      = "hold"
	doLift      = "lift"
	doHours     = "hours"
	doAgenda    = "agenda"
	doReminders = "reminders"

	// looking and asking
	doStatus  = "status"
	doHistory = "history"
	doHelp    = "help"
	doCancel  = "cancel"
	doSwitch  = "switch"

	// faults
	doGuides    = "guides"
	doGuide     = "guide"
	doFault     = "fault"
	doFaults    = "faults"
	doReference = "reference"
	doContacts  = "contacts"
	doNumbers   = "numbers"
	doVisit     = "visit"

	// the money
	doCredit  = "credit"
	doDebit   = "debit"
	doMatch   = "match"
	doOwed    = "owed"
	doDay     = "day"
	doMonth   = "month"
	doFloat   = "float"
	doExport  = "export"
	doBank    = "bank"
	doCorrect = "correct"

	// how much to load, and the shop's own cash
	doLoad     = "load"
	doCashPlan = "cash-plan"
	doBacktest = "backtest"

	// people and what is laid down
	doSettings  = "settings"
	doPeople    = "people"
	doLeaver    = "leaver"
	doInvite    = "invite"
	doLostPhone = "lost-phone"
	doMyCode    = "my-code"
	doOverview  = "overview"
	doSetup     = "setup"
	doNewShop   = "new-shop"
)
