package dialogs_test

import "testing"

func TestDay(t *testing.T) {
	f := newFloor(t)
	f.play(`
	staff1: open
	staff1: 40
	staff1: 3000
	staff1: [150 notes]
	staff1: 200
	staff1: [Change]
	staff1: [bottom]
	staff1: 190
	staff1: [Confirm]
	staff1: [All done]
	staff1: [With a device]
	staff1: printed 6900
	@2026-11-25 12:00
	staff2: status
	staff2: level 30 100 150
	staff2: top up 20x50
	staff2: [Confirm]
	staff2: borrow 5x20
	staff2: [Confirm]
	staff2: found 2x20
	staff2: [Put aside]
	staff2: [Confirm]
	staff2: test
	staff2: [1 of each]
	staff2: [Yes]
	staff2: [Box for]
	staff2: [Confirm]
	staff2: history
	@2026-11-25 21:05
	staff2: close
	staff1: status
	staff1: close
	staff2: 12
	staff2: 61
	staff2: 70
	staff2: 1x20 1x50 1x10
	staff2: [No]
	staff2: [No]
	staff2: [Confirm]
	staff2: 28 130 121
	staff2: 0
	staff2: [Confirm]
	staff2: no idea sorry
	staff2: [All done]
	staff2: undo
	owner: status
	owner: help
	`)
	t.Log("\n" + f.out.String())
}
