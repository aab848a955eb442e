package dialogs

import (
	"shopfloat/internal/dialogs/closing"
	"shopfloat/internal/dialogs/correct"
	"shopfloat/internal/dialogs/day"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/load"
	"shopfloat/internal/dialogs/money"
	"shopfloat/internal/dialogs/past"
	"shopfloat/internal/dialogs/people"
	"shopfloat/internal/dialogs/reminding"
	"shopfloat/internal/dialogs/setup"
	"shopfloat/internal/dialogs/statements"
	"shopfloat/internal/dialogs/trouble"
	"shopfloat/internal/texts"
)

// New builds the engine of all rooms over a catalogue of texts.
func New(catalogue *texts.Catalogue) *engine.Engine { return engine.New(catalogue, declarations()) }

// declarations list every dialog, command and standing card, in the order in which help shows the commands.
func declarations() []engine.Declaration {
	first := []engine.Declaration{
		reminding.ShiftFlow(), day.OpeningFlow(), day.TopUpFlow(), day.SwapFlow(), day.MoveFlow(),
		day.LevelFlow(), closing.SpotFlow(), closing.SecondFlow(), day.TestFlow(), day.FoundFlow(),
		closing.CloseFlow(), closing.FinishFlow(), closing.SettleFlow(), past.PrintedFlow(),
	}
	return append(first, day.EarlierFlow(), past.StatusCommand(), past.HistoryCommand(),
		trouble.GuidesCommand(), trouble.MissedCommand(), trouble.MissedCard(), trouble.FaultsCommand(),
		trouble.ReferenceCommand(), closing.VisitFlow(), trouble.NumbersFlow(), past.UndoFlow(), load.AdviceFlow(),
		load.CashFlow(), load.BacktestCommand(), load.LeaksCommand(), load.PictureCommand(),
		load.ShowMeCommand(), people.InviteFlow(), people.StaffFlow(), people.LostPhoneFlow(),
		engine.MyCodeFlow(), setup.SettingsFlow(), setup.SwitchFlow(),
		setup.OverviewCommand(), setup.NewShopCommand(), setup.ShopFlow(), money.CreditFlow(), money.DebitFlow(),
		money.MatchFlow(), money.WriteOffFlow(), money.ReferenceFlow(), money.OwedCommand(), statements.Flow(),
		correct.RecordFlow(), past.FinishMonthFlow(), past.DayCommand(), past.MonthCommand(), past.FloatCommand(),
		past.ExportCommand(), past.BackupCommand(),
		engine.CancelCommand(), engine.HelpCommand(), reminding.HoursFlow(), reminding.HoldFlow(),
		day.DifferentFlow(), engine.BusyFlow(), engine.RenewedFlow(),
		closing.Moments(), day.Moments(), past.Moments(), trouble.Moments(), reminding.Moments(),
		money.Moments(), statements.Moments(), people.Moments(), setup.Moments(), load.Moments(),
		closing.WitnessCard(), past.AllCard(), closing.GoOnCard(), trouble.GuideCard(), trouble.FaultCard(),
		reminding.StartCard, reminding.LaterCard, reminding.MuteCard, reminding.GoneCard, reminding.RarerCard)
}
