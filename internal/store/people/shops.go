package people

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/seal"
)

// Account says which person of which shop writes from a chat.
type Account struct {
	Chat    chat.Chat
	Shop    shop.ID
	Person  shop.PersonID
	Shared  bool // the phone on the counter, which several people use
	Frozen  bool // a lost phone
	Former  bool // another took its place; it may only say that this is not right
	Several bool // the chat belongs to other shops too
}

// NewShop is a shop to be added. Machines get their ids from the store.
type NewShop struct {
	Settings shop.Settings
	Accounts map[chat.Chat]shop.PersonID
}

// AddShop adds a shop and gives its id.
func (t People) AddShop(n NewShop) (shop.ID, error) {
	var id shop.ID
	var machine shop.MachineID
	err := t.tx.One(
		"SELECT coalesce(max(shop), 0) + 1, (SELECT coalesce(max(id), 0) + 1 FROM machine) FROM settings",
		nil,
		&id,
		&machine,
	)
	if err != nil {
		return 0, fmt.Errorf("new shop: %w", err)
	}
	s := n.Settings
	s.Machines = slices.Clone(s.Machines)
	for i := range s.Machines {
		s.Machines[i].ID = machine + shop.MachineID(i)
	}
	if err := t.SaveSettings(id, s); err != nil {
		return 0, err
	}
	for _, where := range slices.Sorted(maps.Keys(n.Accounts)) {
		if err := t.addAccount(Account{Chat: where, Shop: id, Person: n.Accounts[where]}); err != nil {
			return 0, err
		}
	}
	return id, nil
}

func (t People) addAccount(a Account) error {
	if _, err := t.Account(a.Chat); !errors.Is(err, file.ErrNone) {
		return errors.Join(fmt.Errorf("%s belongs to a shop already", a.Chat), err)
	}
	delete(t.at.teams, a.Shop)
	mark, err := t.told.Salt()
	if err != nil {
		return err
	}
	err = t.tx.Exec("INSERT INTO account (chat, shop, person, mark) VALUES (?, ?, ?, ?)",
		a.Chat, a.Shop, a.Person, mark)
	if err != nil {
		return err
	}
	return t.told.TellAccounts(a.Shop, a.Person, string(a.Chat))
}

// SaveSettings adds the next version of a shop's settings. Machines that are
// new to the store get empty books.
func (t People) SaveSettings(id shop.ID, s shop.Settings) error {
	version, prev := int64(0), make([]byte, seal.Size)
	err := t.tx.One("SELECT version, hash FROM settings WHERE shop = ? ORDER BY version DESC LIMIT 1", []any{id},
		&version, &prev)
	if err != nil && !errors.Is(err, file.ErrNone) {
		return fmt.Errorf("settings of shop %d: %w", id, err)
	}
	version++
	if _, err := shop.New(id, version, s); err != nil {
		return err
	}
	bare, err := t.putNames(id, s)
	if err != nil {
		return err
	}
	body, err := json.Marshal(bare)
	if err != nil {
		return fmt.Errorf("settings of shop %d: %w", id, err)
	}
	hash := SettingsHash(id, version, file.Milli(t.tx.Now()), body, prev)
	err = t.tx.Exec("INSERT INTO settings (shop, version, since, body, hash) VALUES (?, ?, ?, ?, ?)",
		id, version, file.Milli(t.tx.Now()), string(body), hash)
	if err != nil {
		return fmt.Errorf("settings of shop %d: %w", id, err)
	}
	delete(t.at.shops, id)
	if err := t.told.TellSettings(id, version); err != nil {
		return err
	}
	return t.addMachines(id, s.Machines)
}

func (t People) addMachines(id shop.ID, machines []shop.Machine) error {
	for _, m := range machines {
		empty, err := json.Marshal(books.New(m.ID))
		if err != nil {
			return err
		}
		err = t.tx.Exec(
			`INSERT INTO machine (id, shop, seq, head, body, fold) VALUES (?, ?, 0, ?, ?, ?)
				ON CONFLICT (id) DO NOTHING`,
			m.ID,
			id,
			make([]byte, seal.Size),
			string(empty),
			ledger.Arithmetic,
		)
		if err != nil {
			return fmt.Errorf("machine %d: %w", m.ID, err)
		}
	}
	return nil
}

// Team lists the accounts of a shop's people, by person and chat.
func (t People) Team(id shop.ID) ([]Account, error) {
	if team, ok := t.at.teams[id]; ok {
		return team, nil
	}
	var team []Account
	err := t.tx.Each(
		`SELECT chat, person, shared FROM account WHERE shop = ? AND frozen `+speaks+` ORDER BY person, chat`,
		[]any{id},
		func(row file.Scanner) error {
			a := Account{Shop: id}
			err := row.Scan(&a.Chat, &a.Person, &a.Shared)
			team = append(team, a)
			return err
		},
	)
	if err != nil {
		return nil, fmt.Errorf("team of shop %d: %w", id, err)
	}
	file.Keep(&t.at.teams, file.KeepSmall, id, team)
	return team, nil
}

// Shop gives the newest version of a shop.
func (t People) Shop(id shop.ID) (*shop.Shop, error) {
	if s := t.at.shops[id]; s != nil {
		return s, nil
	}
	var version int64
	var body []byte
	err := t.tx.One(
		"SELECT version, body FROM settings WHERE shop = ? ORDER BY version DESC LIMIT 1",
		[]any{id},
		&version,
		&body,
	)
	if err != nil {
		return nil, fmt.Errorf("shop %d: %w", id, err)
	}
	var settings shop.Settings
	if err := json.Unmarshal(body, &settings); err != nil {
		return nil, fmt.Errorf("shop %d version %d: %w", id, version, err)
	}
	if err := takeNames(t.tx.Each, id, &settings); err != nil {
		return nil, err
	}
	s, err := shop.New(id, version, settings)
	if err != nil {
		return nil, err
	}
	file.Keep(&t.at.shops, file.KeepSmall, id, s)
	return s, nil
}

// ShopAt gives a version of a shop, without people's names.
func (t People) ShopAt(id shop.ID, version int64) (*shop.Shop, error) {
	var body []byte
	err := t.tx.One("SELECT body FROM settings WHERE shop = ? AND version = ?", []any{id, version}, &body)
	var settings shop.Settings
	if err == nil {
		err = json.Unmarshal(body, &settings)
	}
	if err != nil {
		return nil, fmt.Errorf("shop %d version %d: %w", id, version, err)
	}
	return shop.New(id, version, settings)
}

// NewShop gives the number of the next shop.
func (t People) NewShop() (id shop.ID, err error) {
	err = t.tx.One("SELECT coalesce(max(shop), 0) + 1 FROM settings", nil, &id)
	return id, err
}

// NewMachine gives the number of a machine that is new, offset further on for
// those of the same settings.
func (t People) NewMachine(offset int) (id shop.MachineID, err error) {
	err = t.tx.One("SELECT coalesce(max(id), 0) + 1 + ? FROM machine", []any{offset}, &id)
	return id, err
}
