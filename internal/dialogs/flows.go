package dialogs

import "shopfloat/internal/texts"

// New builds the engine of all rooms over a catalogue of texts.
func New(catalogue *texts.Catalogue) *Engine { return build(catalogue, declarations()) }

// declarations list every dialog, command and standing card, in the order in
// which help shows the commands.
func declarations() []declaration {
	first := []declaration{
		shiftFlow(), openingFlow(), topUpFlow(), swapFlow(), moveFlow(), levelFlow(), spotFlow(), secondFlow(),
		testFlow(), foundFlow(), closingFlow(), finishFlow(), settleFlow(), printedFlow(),
	}
	return append(first,
		earlierFlow(), statusCommand(), historyCommand(),
		guidesCommand(), faultsCommand(), referenceCommand(), visitFlow(), numbersFlow(), undoFlow(),
		loadFlow(), cashFlow(), backtestCommand(),
		inviteFlow(), peopleFlow(), lostPhoneFlow(), myCodeFlow(), settingsFlow(), switchFlow(), overviewCommand(),
		newShopCommand(), setupFlow(),
		creditFlow(), debitFlow(), matchFlow(), owedCommand(), correctFlow(),
		dayCommand(), monthCommand(), floatCommand(), exportCommand(),
		cancelCommand(), helpCommand(), hoursFlow(), holdFlow(),
		differentFlow(), busyFlow(), renewedFlow(),
		dayMoments(), pastMoments(), troubleMoments(), remindingMoments(), moneyMoments(), peopleMoments(),
		setupMoments(), loadMoments(),
		witnessCard(), goOnCard(), guideCard(), faultCard(), startCard(), laterCard(),
	)
}
