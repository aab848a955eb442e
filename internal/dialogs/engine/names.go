package engine

// The names of all that can be done: dialogs, commands, and cards that stand by
// themselves. A command has the name of its dialog where it begins one of its
// own. They stand in files of the shop and in buttons, so they stay as they are.
const (
	// the day at the machine
	DoOpen      = "open"
	DoTopUp     = "topup"
	DoSwap      = "swap"
	DoMove      = "move"
	DoLevel     = "level"
	DoCountNow  = "count-now"
	DoSpot      = "spot"
	DoSecond    = "second"
	DoTest      = "test"
	DoFound     = "found"
	DoClose     = "close"
	DoFinish    = "finish"
	DoSettle    = "settle"
	DoPrinted   = "printed"
	DoEarlier   = "earlier"
	DoDifferent = "different"
	DoShowMe    = "show-me"
	DoTicks     = "ticks"
	DoUndo      = "undo"
	doBusy      = "busy"
	doRenewed   = "renewed"
	DoWitness   = "witness"
	DoGoOn      = "go-on"

	// shifts and reminders
	DoClosed    = "closed"
	DoClosingAt = "closing-at"
	DoOpeningAt = "opening-at"
	DoUsual     = "usual"
	DoIll       = "ill"
	DoNobody    = "nobody"
	DoDuty      = "duty"
	DoShift     = "shift"
	DoSay       = "say"
	DoStart     = "start"
	DoLater     = "later"
	DoMute      = "mute"
	DoGone      = "gone"
	DoRarer     = "rarer"
	DoFeast     = "feast"
	DoAway      = "away"
	DoHold      = "hold"
	DoLift      = "lift"
	DoHours     = "hours"
	DoAgenda    = "agenda"
	DoReminders = "reminders"

	// looking and asking
	DoStatus  = "status"
	DoHistory = "history"
	doHelp    = "help"
	doCancel  = "cancel"
	DoSwitch  = "switch"

	// faults
	DoMissed    = "missed"
	DoGuides    = "guides"
	DoGuide     = "guide"
	DoFault     = "fault"
	DoFaults    = "faults"
	DoReference = "reference"
	DoContacts  = "contacts"
	DoNumbers   = "numbers"
	DoVisit     = "visit"

	// the money
	DoCredit   = "credit"
	DoDebit    = "debit"
	DoMatch    = "match"
	DoSplit    = "split"
	DoWriteOff = "write-off"
	DoOwed     = "owed"
	DoDay      = "day"
	DoMonth    = "month"
	DoFloat    = "float"
	DoExport   = "export"
	DoBank     = "bank"
	DoBackup   = "backup"
	DoCorrect  = "correct"

	DoStatement   = "statement"
	DoFinishMonth = "finish-month"

	// how much to load, and the shop's own cash
	DoLoad     = "load"
	DoCashPlan = "cash-plan"
	DoBacktest = "backtest"
	DoLeaks    = "leaks"
	DoPicture  = "picture"

	// people and what is laid down
	DoSettings  = "settings"
	DoPeople    = "people"
	DoLeaver    = "leaver"
	DoInvite    = "invite"
	DoLostPhone = "lost-phone"
	DoMyCode    = "my-code"
	DoDecide    = "decide"
	DoOverview  = "overview"
	DoSetup     = "setup"
	DoNewShop   = "new-shop"
)
