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

// The statements of a step.
const (
	findMember = `SELECT a.shop, a.person, s.version, s.body
		FROM account a JOIN settings s ON s.shop = a.shop
		WHERE a.chat = ? ORDER BY s.version DESC LIMIT 1`
	readChat  = "SELECT state FROM chat WHERE chat = ?"
	writeChat = `INSERT INTO chat (chat, state, machine, flow, person) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT (chat) DO UPDATE SET state = excluded.state, machine = excluded.machine, flow = excluded.flow`
	readMachine  = "SELECT body FROM machine WHERE id = ?"
	readHead     = "SELECT head FROM machine WHERE id = ?"
	writeMachine = "UPDATE machine SET seq = ?, head = ?, body = ? WHERE id = ?"
	addEntry     = `INSERT INTO entry (machine, seq, period, kind, by_person, settings,
		happened, recorded, cause, cause_n, body, prev, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	addMove = `INSERT INTO move (machine, period, seq, n, from_place, to_place, face, notes)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`
)

// prepare has every statement ready before the first update.
func (s *server) prepare(ctx context.Context) error {
	for _, text := range []string{
		findMember, readChat, writeChat, readMachine, readHead, writeMachine, addEntry, addMove,
	} {
		st, err := s.db.PrepareContext(ctx, text)
		if err != nil {
			return err
		}
		s.prepared[text] = st
	}
	return nil
}

// txn is a transaction that takes a prepared statement where there is one.
type txn struct {
	*sql.Tx
	prepared map[string]*sql.Stmt
}

func (t txn) row(ctx context.Context, text string, args ...any) *sql.Row {
	if st := t.prepared[text]; st != nil {
		return t.StmtContext(ctx, st).QueryRowContext(ctx, args...)
	}
	return t.QueryRowContext(ctx, text, args...)
}

func (t txn) exec(ctx context.Context, text string, args ...any) (sql.Result, error) {
	if st := t.prepared[text]; st != nil {
		return t.StmtContext(ctx, st).ExecContext(ctx, args...)
	}
	return t.ExecContext(ctx, text, args...)
}

// book takes one step in one transaction.
func (s *server) book(ctx context.Context, in chat.Input, cause int64) (res chat.Result, err error) {
	begun, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return res, err
	}
	tx := txn{begun, s.prepared}
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
	_, err = tx.exec(ctx, writeChat,
		in.Chat, string(state), res.State.Machine, res.State.Flow, f.Person.ID)
	if err != nil {
		return res, err
	}
	return res, tx.Commit()
}

// facts reads what a step may know.
func (s *server) facts(ctx context.Context, tx txn, where chat.Chat) (
	f chat.Facts, st chat.State, err error,
) {
	var state, machine string
	who, err := s.member(ctx, tx, where)
	if err != nil {
		return f, st, err
	}
	f.Shop = who.shop
	f.Person, _ = f.Shop.Person(who.person)
	f.Lang = "en"
	err = tx.row(ctx, readChat, where).Scan(&state)
	if err == nil {
		err = json.Unmarshal([]byte(state), &st)
	}
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return f, st, err
	}
	err = tx.row(ctx, readMachine, f.Shop.Machines[0].ID).Scan(&machine)
	if err != nil {
		return f, st, err
	}
	f.Machine = books.New(f.Shop.Machines[0].ID)
	return f, st, json.Unmarshal([]byte(machine), f.Machine)
}

// member finds whose chat it is.
func (s *server) member(ctx context.Context, tx txn, where chat.Chat) (who member, err error) {
	s.mu.Lock()
	who, ok := s.known[where]
	s.mu.Unlock()
	if ok {
		return who, nil
	}
	var id shop.ID
	var version int64
	var body string
	err = tx.row(ctx, findMember, where).Scan(&id, &who.person, &version, &body)
	if err != nil {
		return who, err
	}
	var laid shop.Settings
	if err := json.Unmarshal([]byte(body), &laid); err != nil {
		return who, err
	}
	if who.shop, err = shop.New(id, version, laid); err == nil && s.fair {
		s.mu.Lock()
		s.known[where] = who
		s.mu.Unlock()
	}
	return who, err
}

// post writes a record, its movements and the machine's running state.
func post(
	ctx context.Context, tx txn, m *books.Machine, f chat.Facts, r books.Record, cause int64, n int,
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
	if err := tx.row(ctx, readHead, m.ID).Scan(&prev); err != nil {
		return err
	}
	hash := sha256.Sum256(append(prev, body...))
	period := max(r.Period, 1)
	_, err = tx.exec(ctx, addEntry,
		m.ID, e.Seq, period, r.Kind, e.By, e.Settings,
		r.Happened.UnixMilli(), e.Recorded.UnixMilli(), cause, n, string(body), prev, hash[:])
	if err != nil {
		return err
	}
	for i, mv := range moves {
		_, err := tx.exec(ctx, addMove, m.ID, period, e.Seq, i, mv.From, mv.To, mv.Face, mv.Notes)
		if err != nil {
			return err
		}
	}
	state, err := json.Marshal(m)
	if err != nil {
		return err
	}
	_, err = tx.exec(ctx, writeMachine,
		e.Seq, hash[:], string(state), m.ID)
	return err
}
