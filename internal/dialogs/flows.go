package dialogs

// declarations list every dialog, command and standing card, in the order in
// which help shows the commands.
func (e *Engine) declarations() []declaration {
	day := []declaration{
		shiftFlow(), openingFlow(), topUpFlow(), swapFlow(), moveFlow(), levelFlow(), spotFlow(), secondFlow(),
		testFlow(), foundFlow(), closingFlow(), finishFlow(), settleFlow(), printedFlow(),
	}
	return append(day,
		e.earlierFlow(), statusCommand(), historyCommand(),
		guidesCommand(), faultsCommand(), referenceCommand(), visitFlow(), e.numbersFlow(), undoFlow(),
		loadFlow(), cashFlow(), backtestCommand(),
		inviteFlow(), peopleFlow(), lostPhoneFlow(), myCodeFlow(), settingsFlow(), e.switchFlow(), overviewCommand(),
		newShopCommand(), setupFlow(),
		creditFlow(), debitFlow(), matchFlow(), owedCommand(), correctFlow(),
		dayCommand(), monthCommand(), floatCommand(), exportCommand(),
		cancelCommand(), helpCommand(), hoursFlow(), holdFlow(),
		differentFlow(), e.busyFlow(), renewedFlow(),
		dayMoments(), pastMoments(), troubleMoments(), remindingMoments(), moneyMoments(), peopleMoments(),
		setupMoments(), loadMoments(),
		witnessCard(), goOnCard(), guideCard(), faultCard(), startCard(), laterCard(),
	)
}
