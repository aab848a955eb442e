package queues

import (
	"context"
	"fmt"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// ofService limits machines to those that are to have a plan: of a shop that somebody laid
// something down for. One that was only written into the file, to be looked at, is planned
// when somebody writes from it.
const ofService = `EXISTS (SELECT 1 FROM settings s WHERE s.shop = m.shop AND s.version > 1)`

// planned finds the deadline at which a machine's others are planned. A machine in use is
// never without one: whoever answers it sets the next in the same commit.
const planned = `d.machine = m.id AND d.name IN ('` + chat.PlanAgain + `', '` + chat.PlanGoOn + `')`

// unplanned finds machines of which nobody would be reminded for long.
const unplanned = `SELECT m.id, m.shop, 0 FROM machine m
	WHERE NOT EXISTS (SELECT 1 FROM deadline d WHERE ` + planned + `) AND ` + ofService

// PlanMachine sees to it that a machine has deadlines: one without a plan gets the one at
// which the others are planned, due now.
func (t Queues) PlanMachine(id shop.MachineID) error {
	err := t.tx.Exec(`INSERT INTO deadline (machine, name, chat, due_at) SELECT ?, ?, '', ?
		WHERE NOT EXISTS (SELECT 1 FROM deadline WHERE machine = ? AND name IN (?, ?))`,
		id, chat.PlanAgain, file.Milli(t.tx.Now()), id, chat.PlanAgain, chat.PlanGoOn)
	if err != nil {
		return fmt.Errorf("plan of machine %d: %w", id, err)
	}
	return nil
}

// PlanAll does what [Queues.PlanMachine] does for every machine in service: a file of an
// earlier program may hold some that were never planned.
func (t Queues) PlanAll() error {
	var list []Machine
	err := t.tx.Each(unplanned, nil, func(row file.Scanner) error { return scanMachine(row, &list) })
	if err != nil {
		return fmt.Errorf("machines without a plan: %w", err)
	}
	for _, m := range list {
		if err := t.PlanMachine(m.Machine); err != nil {
			return err
		}
	}
	return nil
}

// Planned is what is planned of a machine.
type Planned struct {
	Machine   shop.MachineID
	Shop      shop.ID
	Deadlines map[string]time.Time // by name
}

// PlannedOf gives the deadlines of the machines that come next behind one, by their numbers, so
// many of them at most: of those in service, and of others of which anything of a day is planned.
func (t Queues) PlannedOf(behind shop.MachineID, most int) (list []Planned, err error) {
	const query = `SELECT m.id, m.shop, coalesce(d.name, ''), coalesce(d.due_at, 0)
		FROM (SELECT m.id, m.shop FROM machine m WHERE m.id > ? AND (` + ofService + `
			OR EXISTS (SELECT 1 FROM deadline d WHERE ` + planned + `)
			OR EXISTS (SELECT 1 FROM deadline d WHERE d.machine = m.id AND d.name BETWEEN 'due:' AND 'due;'))
			ORDER BY m.id LIMIT +?) m
		LEFT JOIN deadline d ON d.machine = m.id ORDER BY m.id`
	err = t.tx.Each(query, []any{behind, most}, func(row file.Scanner) error {
		var p Planned
		var name string
		var due int64
		if err := row.Scan(&p.Machine, &p.Shop, &name, &due); err != nil {
			return err
		}
		if n := len(list); n == 0 || list[n-1].Machine != p.Machine {
			p.Deadlines = map[string]time.Time{}
			list = append(list, p)
		}
		if name != "" {
			list[len(list)-1].Deadlines[name] = file.Instant(due)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("what is planned: %w", err)
	}
	return list, nil
}

// Machine names a machine and its shop, of which nobody would be reminded.
type Machine struct {
	Machine shop.MachineID
	Shop    shop.ID
	Overdue time.Time // when the last of its deadlines was; zero for one that has none
}

// Fault says what is to be done about it.
func (m Machine) Fault() error {
	if m.Overdue.IsZero() {
		return fmt.Errorf("machine %d (shop %d): no reminder is planned, so nobody "+
			"would be told; start the bot on the file once", m.Machine, m.Shop)
	}
	return fmt.Errorf("machine %d (shop %d): reminders were planned until %s only, and records are newer, "+
		"so nobody is told; restart the bot, and look at its log",
		m.Machine, m.Shop, m.Overdue.UTC().Format(time.RFC3339))
}

func scanMachine(row file.Scanner, list *[]Machine) error {
	var m Machine
	var due int64
	if err := row.Scan(&m.Machine, &m.Shop, &due); err != nil {
		return err
	}
	m.Overdue = file.Instant(due)
	*list = append(*list, m)
	return nil
}

// overdueAfter is how much later than the last deadline of a machine something was recorded in
// the file, before that is a fault. The bot answers one within a minute and sets the next, so it
// ran without doing so; of a bot that was down nothing is recorded. A day, so that what comes in
// first after an outage and the first look at what is due may stand in either order.
const overdueAfter = 24 * time.Hour

// Unplanned lists the machines in service that nobody would be reminded of: those without a
// deadline, and those whose last one was due long before the newest record of the file. One that
// has others but none that plans is mended at a start: files of earlier programs hold such.
func Unplanned(ctx context.Context, r *file.Reader) (list []Machine, err error) {
	const query = `SELECT m.id, m.shop, coalesce(MAX(d.due_at), 0) AS last
		FROM machine m LEFT JOIN deadline d ON d.machine = m.id WHERE ` + ofService + ` GROUP BY m.id
		HAVING last = 0 OR last < (SELECT MAX(e.recorded) FROM entry e) - ? ORDER BY m.id`
	err = r.Each(ctx, query, []any{overdueAfter.Milliseconds()},
		func(row file.Scanner) error { return scanMachine(row, &list) })
	if err != nil {
		return nil, fmt.Errorf("machines without a plan: %w", err)
	}
	return list, nil
}
