package shop_test

import (
	"bytes"
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// Every version of the settings is kept as JSON for good. This one, in which everything
// is laid down, must read and write the same for as long as such a file may exist.
func TestStoredVersion(t *testing.T) {
	stored, err := os.ReadFile("testdata/settings.json")
	if err != nil {
		t.Fatal(err)
	}
	var s shop.Settings
	d := json.NewDecoder(bytes.NewReader(stored))
	d.DisallowUnknownFields()
	if err := d.Decode(&s); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.New(1, 1, s); err != nil {
		t.Error(err)
	}
	again, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	if got := string(again) + "\n"; got != string(stored) {
		t.Errorf("read and written again it is\n%s", got)
	}
	for _, unset := range zeros("Settings", reflect.ValueOf(s)) {
		t.Errorf("%s is not laid down in the file, so nothing is said about it here", unset)
	}
}

// zeros names the fields that hold nothing in any element.
func zeros(name string, v reflect.Value) (list []string) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return []string{name}
		}
		return zeros(name, v.Elem())
	case reflect.Slice, reflect.Array:
		if v.Len() == 0 {
			return []string{name}
		}
		list = zeros(name, v.Index(0))
		for i := 1; i < v.Len(); i++ { // what no element holds
			next := zeros(name, v.Index(i))
			list = slices.DeleteFunc(list, func(n string) bool { return !slices.Contains(next, n) })
		}
		return list
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[decimal.Decimal]() || v.Type() == reflect.TypeFor[time.Time]() {
			break
		}
		for i := range v.NumField() {
			list = append(list, zeros(name+"."+v.Type().Field(i).Name, v.Field(i))...)
		}
		return list
	}
	if v.IsZero() {
		return []string{name}
	}
	return nil
}

// A version from before a setting was thought of says nothing about it, and that is a
// sensible shop: balanced loads, usual ladders, no hold, no two persons.
func TestEarliestVersion(t *testing.T) {
	var s shop.Settings
	const first = `{"name": "Corner", "country": "IE", "zone": "Europe/Dublin", "currency": "EUR",
		"nightly": true, "limit": "40000", "safe_open": true, "checked": true,
		"hours": [{"open": 420, "close": 1260}], "machines": [],
		"people": [{"id": 1, "role": "owner"}], "bundles": [], "tolerance": []}`
	if err := json.Unmarshal([]byte(first), &s); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.New(1, 1, s); err != nil {
		t.Error(err)
	}
	if s.Hours[0] != (shop.Hours{Open: 420, Close: 1260}) || s.Hours[1] != (shop.Hours{}) ||
		!s.Limit.Equal(decimal.NewFromInt(40_000)) || s.TwoPersons || s.CreditDays != 0 ||
		!reflect.DeepEqual(s.Plan, shop.Plan{}) || s.Load != (shop.Load{}) {
		t.Errorf("read as %+v", s)
	}
	out, err := json.Marshal(s)
	if err != nil || strings.Contains(string(out), "plan") || strings.Contains(string(out), "load") {
		t.Errorf("written as %s, %v; want nothing of what was never laid down", out, err)
	}
}
