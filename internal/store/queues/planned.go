package queues

import (
	"context"
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// unplanned finds machines in service that have no deadline, so that nobody would be
// reminded of them: those of a shop that somebody laid something down for. One that was
// only written into the file, to be looked at, is planned when somebody writes from it.
const unplanned = `SELECT m.id, m.shop FROM machine m
	WHERE NOT EXISTS (SELECT 1 FROM deadline d WHERE d.machine = m.id)
	  AND EXISTS (SELECT 1 FROM settings s WHERE s.shop = m.shop AND s.version > 1)`

// PlanMachine sees to it that a machine has deadlines: one that has none gets the one at
// which the others are planned, due now.
func (t Queues) PlanMachine(id shop.MachineID) error {
	err := t.tx.Exec(`INSERT INTO deadline (machine, name, chat, due_at) SELECT ?, ?, '', ?
		WHERE NOT EXISTS (SELECT 1 FROM deadline WHERE machine = ?)`,
		id, chat.PlanAgain, file.Milli(t.tx.Now()), id)
	if err != nil {
		return fmt.Errorf("plan of machine %d: %w", id, err)
	}
	return nil
}

// PlanAll does what [Queues.PlanMachine] does for every machine in service: a file of an
// earlier program may hold some that were never planned.
func (t Queues) PlanAll() error {
	var ids []shop.MachineID
	err := t.tx.Each(unplanned, nil, func(row file.Scanner) error {
		var id shop.MachineID
		var in shop.ID
		err := row.Scan(&id, &in)
		ids = append(ids, id)
		return err
	})
	if err != nil {
		return fmt.Errorf("machines without a plan: %w", err)
	}
	for _, id := range ids {
		if err := t.PlanMachine(id); err != nil {
			return err
		}
	}
	return nil
}

// Machine names a machine and its shop.
type Machine struct {
	Machine shop.MachineID
	Shop    shop.ID
}

// Unplanned lists the machines in service that nobody would be reminded of.
func Unplanned(ctx context.Context, r *file.Reader) (list []Machine, err error) {
	err = r.Each(ctx, unplanned+" ORDER BY m.id", nil, func(row file.Scanner) error {
		var m Machine
		err := row.Scan(&m.Machine, &m.Shop)
		list = append(list, m)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("machines without a plan: %w", err)
	}
	return list, nil
}
