package proof

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/people"
	"shopfloat/internal/store/seal"
)

// settingsFaults is what is wrong with each shop's settings, and the shop
// whose newest settings name a machine.
type settingsFaults struct {
	byShop map[shop.ID][]string
	owners map[shop.MachineID]shop.ID
	newest map[shop.ID]int64 // version; one that is missing below it is a fault of its own
	zones  map[shop.ID]*time.Location

	strangers []string // accounts of shops that have no settings, or no machine
}

func (s settingsFaults) faults(m stored) []string {
	if !m.shop.Valid {
		return nil
	}
	id := shop.ID(m.shop.Int64)
	list := s.byShop[id]
	if s.owners[m.id] != id {
		list = append(list[:len(list):len(list)],
			fmt.Sprintf("the settings of shop %d name no machine %d", id, m.id))
	}
	return list
}

// settings checks the chain of each shop's settings and that its accounts
// belong to people in them.
func (v *verifier) settings() (settingsFaults, error) {
	s := settingsFaults{
		byShop: map[shop.ID][]string{},
		owners: map[shop.MachineID]shop.ID{},
		newest: map[shop.ID]int64{},
		zones:  map[shop.ID]*time.Location{},
	}
	newest := map[shop.ID]*shop.Shop{}
	var last shop.ID
	var expect int64
	var prev []byte
	const query = "SELECT shop, version, since, body, hash FROM settings ORDER BY shop, version"
	err := v.each(query, nil, func(row file.Scanner) error {
		var id shop.ID
		var version, since int64
		var body, hash []byte
		if err := row.Scan(&id, &version, &since, &body, &hash); err != nil {
			return err
		}
		if id != last {
			last, expect, prev = id, 0, make([]byte, seal.Size)
		}
		expect++
		sh, fault := checkSettings(id, version, expect, body)
		if fault == "" && !bytes.Equal(hash, people.SettingsHash(id, version, since, body, prev)) {
			fault = fmt.Sprintf("settings %d of shop %d were changed: the hash does not match", version, id)
		}
		if fault != "" {
			s.byShop[id] = append(s.byShop[id], fault)
		}
		prev, newest[id], s.newest[id] = hash, sh, version
		return nil
	})
	if err != nil {
		return s, err
	}
	for id, sh := range newest {
		if sh != nil {
			s.zones[id] = sh.Location
		}
		for i := 0; sh != nil && i < len(sh.Machines); i++ {
			s.owners[sh.Machines[i].ID] = id
		}
	}
	err = v.accounts(&s, newest)
	return s, err
}

func checkSettings(id shop.ID, version, expect int64, body []byte) (*shop.Shop, string) {
	var settings shop.Settings
	err := json.Unmarshal(body, &settings)
	var sh *shop.Shop
	if err == nil {
		sh, err = shop.New(id, version, settings)
	}
	switch {
	case version != expect:
		return sh, fmt.Sprintf("settings %d of shop %d are missing", expect, id)
	case err != nil:
		return nil, fmt.Sprintf("settings %d of shop %d cannot be read: %s", version, id, err)
	}
	return sh, ""
}

func (v *verifier) accounts(s *settingsFaults, newest map[shop.ID]*shop.Shop) error {
	return v.each("SELECT shop, person FROM account ORDER BY chat", nil, func(row file.Scanner) error {
		var id shop.ID
		var person shop.PersonID
		if err := row.Scan(&id, &person); err != nil {
			return err
		}
		sh := newest[id]
		fault := fmt.Sprintf("an account of shop %d belongs to nobody: person %d", id, person)
		if sh == nil {
			if len(s.byShop[id]) == 0 { // its settings are not at fault: there are none
				s.strangers = append(s.strangers, fault)
			}
			return nil
		}
		if _, ok := sh.Person(person); ok {
			return nil
		}
		if len(sh.Machines) == 0 {
			s.strangers = append(s.strangers, fault)
			return nil
		}
		s.byShop[id] = append(s.byShop[id], fault)
		return nil
	})
}

// repeated finds entries that say they come from the same cause.
func (v *verifier) repeated() (map[shop.MachineID][]string, error) {
	faults := map[shop.MachineID][]string{}
	err := v.each(`SELECT b.machine, b.seq, a.machine, a.seq, b.cause FROM entry a JOIN entry b
		ON b.cause = a.cause AND b.cause_n = a.cause_n AND (b.machine, b.seq) > (a.machine, a.seq)
		ORDER BY b.machine, b.seq`, nil, func(row file.Scanner) error {
		var id, other shop.MachineID
		var seq, first, cause int64
		if err := row.Scan(&id, &seq, &other, &first, &cause); err != nil {
			return err
		}
		faults[id] = append(faults[id],
			fmt.Sprintf("entry %d has the cause %d, as entry %d of machine %d has", seq, cause, first, other))
		return nil
	})
	return faults, err
}

// attachments checks words and photos that are still present against the
// digests in the ledger.
func (v *verifier) attachments(rows []*ledger.Row, rep *MachineReport) error {
	lists := map[int64][]ledger.Kept{}
	err := v.each(`SELECT seq, n, digest, salt, words, photo, same FROM attachment
		WHERE machine = ? ORDER BY seq, n`, []any{rep.Machine}, func(row file.Scanner) error {
		var seq, n int64
		var a ledger.Kept
		if err := row.Scan(&seq, &n, &a.Digest, &a.Salt, &a.Words, &a.Photo, &a.Same); err != nil {
			return err
		}
		switch {
		case a.Erased():
			rep.fault("what attachment %d of entry %d held was taken out of the file", n, seq)
		case !bytes.Equal(a.Digest, a.Seal()):
			rep.fault("attachment %d of entry %d was changed", n, seq)
		}
		lists[seq] = append(lists[seq], a)
		return nil
	})
	if err != nil {
		return err
	}
	for _, e := range rows {
		if !bytes.Equal(ledger.SealAll(lists[e.Seq]), e.Digest) {
			rep.fault("the attachments of entry %d are not those it was written with", e.Seq)
		}
		delete(lists, e.Seq)
	}
	for seq := range lists {
		rep.fault("an attachment belongs to entry %d, which is not there", seq)
	}
	return nil
}
