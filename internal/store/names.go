package store

import (
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/people"
	"shopfloat/internal/store/proof"
	"shopfloat/internal/store/queues"
	"shopfloat/internal/store/seal"
)

// What the parts tell and take, by the names that their users know.
type (
	Account         = people.Account
	Code            = people.Code
	ExampleAccounts = people.ExampleAccounts
	NewShop         = people.NewShop

	By      = ledger.By
	Picture = ledger.Picture

	Arrival  = queues.Arrival
	Deadline = queues.Deadline
	Message  = queues.Message
	Planned  = queues.Planned
	Row      = queues.Row
	Work     = queues.Work

	Statement = queues.Statement

	MachineReport = proof.MachineReport
	Panic         = file.Panic
	Opened        = file.Opened
	Refused       = file.Refused
	Doubt         = file.Doubt
)

// What can be wrong, see each part.
var (
	ErrInUse   = file.ErrInUse
	ErrNetwork = file.ErrNetwork
	ErrForeign = file.ErrForeign
	ErrExposed = file.ErrExposed
	ErrLinked  = file.ErrLinked
	ErrSchema  = file.ErrSchema
	ErrLost    = file.ErrLost
	ErrNone    = file.ErrNone

	ErrUnlearnt = ledger.ErrUnlearnt
	ErrDamaged  = ledger.ErrDamaged
	ErrOther    = queues.ErrOther
	ErrFull     = people.ErrFull
)

// What needs no open file, see each part.
var (
	Beside       = file.Beside
	DiskFault    = file.DiskFault
	Copy         = file.Copy
	SyncFile     = file.SyncFile
	SyncFolder   = file.SyncFolder
	Pictures     = file.Pictures
	SavePicture  = file.SavePicture
	TidyPictures = file.TidyPictures
	CheckWord    = seal.CheckWord
	SameWord     = seal.SameWord
	NewPersonID  = people.NewPersonID
	WhatToDo     = proof.WhatToDo
)
