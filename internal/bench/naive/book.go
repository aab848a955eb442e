package main

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"
	"errors"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// book takes one step in one transaction.
func (s *server) book(ctx context.Context, in chat.Input, cause int64) (res chat.Result, err error) {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return res, err
	}
	defer func() { _ = tx.Rollback() }() // nothing after a commit
	f, st, err := s.facts(ctx, tx, in.Chat)
	if err != nil {
		return res, err
	}
	res = s.step(st, in, f)
	m := f.Machine.Clone()
	for n, r := range res.Records {
		if err := post(ctx, tx, m, f, r, cause, n); err != nil {
			return res, err
		}
	}
	state, err := json.Marshal(res.State)
	if err != nil {
		return res, err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO chat (chat, state, machine, flow, person) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT (chat) DO UPDATE SET state = excluded.state, machine = excluded.machine, flow = excluded.flow`,
		in.Chat, string(state), res.State.Machine, res.State.Flow, f.Person.ID)
	if err != nil {
		return res, err
	}
	return res, tx.Commit()
}

// facts reads what a step may know.
func (s *server) facts(ctx context.Context, tx *sql.Tx, where chat.Chat) (
	f chat.Facts, st chat.State, err error,
) {
	var id shop.ID
	var version int64
	var person shop.PersonID
	var settings, state, machine string
	err = tx.QueryRowContext(ctx, `SELECT a.shop, a.person, s.version, s.body
		FROM account a JOIN settings s ON s.shop = a.shop
		WHERE a.chat = ? ORDER BY s.version DESC LIMIT 1`, where).Scan(&id, &person, &version, &settings)
	if err != nil {
		return f, st, err
	}
	var laid shop.Settings
	if err := json.Unmarshal([]byte(settings), &laid); err != nil {
		return f, st, err
	}
	if f.Shop, err = shop.New(id, version, laid); err != nil {
		return f, st, err
	}
	f.Person, _ = f.Shop.Person(person)
	f.Lang = "en"
	err = tx.QueryRowContext(ctx, "SELECT state FROM chat WHERE chat = ?", where).Scan(&state)
	if err == nil {
		err = json.Unmarshal([]byte(state), &st)
	}
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return f, st, err
	}
	err = tx.QueryRowContext(ctx, "SELECT body FROM machine WHERE id = ?", laid.Machines[0].ID).Scan(&machine)
	if err != nil {
		return f, st, err
	}
	f.Machine = books.New(laid.Machines[0].ID)
	return f, st, json.Unmarshal([]byte(machine), f.Machine)
}

// post writes a record, its movements and the machine's running state.
func post(
	ctx context.Context, tx *sql.Tx, m *books.Machine, f chat.Facts, r books.Record, cause int64, n int,
) error {
	e := books.Entry{
		Record: r, Machine: m.ID, Seq: m.Seq + 1, By: f.Person.ID, Settings: f.Shop.Version, Recorded: time.Now(),
	}
	moves, err := m.Post(e)
	if err != nil {
		return err
	}
	body, err := json.Marshal(r)
	if err != nil {
		return err
	}
	var prev []byte
	if err := tx.QueryRowContext(ctx, "SELECT head FROM machine WHERE id = ?", m.ID).Scan(&prev); err != nil {
		return err
	}
	hash := sha256.Sum256(append(prev, body...))
	period := max(r.Period, 1)
	_, err = tx.ExecContext(ctx, `INSERT INTO entry (machine, seq, period, kind, by_person, settings,
		happened, recorded, cause, cause_n, body, prev, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		m.ID, e.Seq, period, r.Kind, e.By, e.Settings,
		r.Happened.UnixMilli(), e.Recorded.UnixMilli(), cause, n, string(body), prev, hash[:])
	if err != nil {
		return err
	}
	for i, mv := range moves {
		_, err := tx.ExecContext(ctx, `INSERT INTO move (machine, period, seq, n, from_place, to_place, face, notes)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`, m.ID, period, e.Seq, i, mv.From, mv.To, mv.Face, mv.Notes)
		if err != nil {
			return err
		}
	}
	state, err := json.Marshal(m)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "UPDATE machine SET seq = ?, head = ?, body = ? WHERE id = ?",
		e.Seq, hash[:], string(state), m.ID)
	return err
}
