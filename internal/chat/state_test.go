package chat_test

import (
	"reflect"
	"testing"
	"time"

	"shopfloat/internal/chat"
)

// filled gives every field, element and pointer below a value something that is
// not zero.
func filled(v reflect.Value, depth int) {
	switch v.Kind() {
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.Unix(1, 0)))
			return
		}
		for i := range v.NumField() {
			filled(v.Field(i), depth)
		}
	case reflect.Pointer:
		if depth > 0 { // a guide lies under a guide
			v.Set(reflect.New(v.Type().Elem()))
			filled(v.Elem(), depth-1)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		filled(v.Index(0), depth)
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		filled(key, depth)
		filled(value, depth)
		v.SetMapIndex(key, value)
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	default:
		if v.CanUint() {
			v.SetUint(1)
		} else {
			v.SetInt(1)
		}
	}
}

// shared names what two values have in common that a change of one would change
// in the other, and counts what was looked at.
func shared(at string, a, b reflect.Value, seen *int) (list []string) {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			if a.Type() != reflect.TypeFor[time.Time]() {
				list = append(list, shared(at+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i), seen)...)
			}
		}
	case reflect.Pointer, reflect.Slice, reflect.Map:
		if *seen++; a.IsNil() || b.IsNil() {
			break
		}
		if a.Pointer() == b.Pointer() {
			return []string{at}
		}
		switch a.Kind() {
		case reflect.Pointer:
			list = shared(at, a.Elem(), b.Elem(), seen)
		case reflect.Slice:
			list = shared(at+"[0]", a.Index(0), b.Index(0), seen)
		default:
			key := a.MapKeys()[0]
			list = shared(at+"[x]", a.MapIndex(key), b.MapIndex(key), seen)
		}
	}
	return list
}

// A copy is the same, and what is changed in it changes nothing in the state it
// was made of: steps are taken again from that.
func TestCloneSharesNothing(t *testing.T) {
	var st chat.State
	filled(reflect.ValueOf(&st).Elem(), 3)
	c, seen := st.Clone(), 0
	if !reflect.DeepEqual(st, c) {
		t.Errorf("copied %+v as %+v", st, c)
	}
	for _, at := range shared("State", reflect.ValueOf(st), reflect.ValueOf(c), &seen) {
		t.Errorf("%s is shared", at)
	}
	if seen < 12 {
		t.Errorf("only %d maps, lists and pointers were looked at", seen)
	}
	if empty := (chat.State{}).Clone(); empty.Held != nil || empty.Walk != nil || empty.Draft.Renewed != nil {
		t.Errorf("of nothing %+v", empty)
	}
}
