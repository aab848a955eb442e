package dialogs_test

import "testing"

func TestDay(t *testing.T) {
	f := newFloor(t)
	f.play(`
	staff1: open
	staff1: hello?
	staff1: status
	staff1: 40
	@2026-11-25 08:00
	staff1: 150
	staff1: [Use 150]
	staff1: [Customers]
	staff1: [Go on]
	staff1: 200
	staff1: [Confirm]
	staff1: open 20 10 10
	staff1: [Top-up]
	staff1: [Confirm]
	staff1: [Something]
	@2026-11-26 06:40
	staff1: open 40 3000 200
	staff1: 10 20 30
	staff1: [Skip]
	staff1: [150 notes]
	staff1: [Confirm]
	owner: finish
	owner: total 1200
	owner: 0
	owner: [Confirm]
	owner: [Skip]
	owner: close
	owner: 50x10 20x20 10x30
	owner: none
	owner: none
	owner: [Confirm]
	owner: 50s €1500, 20s €2600, 10s 170
	owner: 2x20
	owner: [Confirm]
	owner: [All done]
	owner: history
	owner: -5
	owner: move 5x20 from the bank
	owner: [Confirm]
	owner: move
	`)
	t.Log("\n" + f.out.String())
}
