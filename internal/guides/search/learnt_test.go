package search

import (
	"slices"
	"testing"
)

var tea = []Topic{
	{ID: "kettle", Asked: []string{"the kettle does not boil", "kettle stays cold", "kettle is not hot"}},
	{ID: "cup", Asked: []string{"the cup is cracked", "my cup leaks", "cup broke, tea on the floor"}},
}

func withChatter(topics []Topic) []Topic {
	return append(slices.Clone(topics), Topic{Asked: Chatter()})
}

// What is kept of topics answers to the last bit as what has learnt from them, and for no other topics.
func TestRemembered(t *testing.T) {
	file, err := Teach(tea)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := New(tea)
	if err != nil {
		t.Fatal(err)
	}
	kept := &Index{topics: ix.topics, rd: ix.rd}
	var known bool
	if kept.m, known, err = remembered(file, withChatter(tea)); err != nil || !known {
		t.Fatalf("known: %v, %v", known, err)
	}
	for _, text := range []string{"kettle is cold", "cup leaks", "hello", "the cup in the kettle", "broke"} {
		a, x := ix.Chances(text)
		b, y := kept.Chances(text)
		if !slices.Equal(a, b) || x != y {
			t.Errorf("%s: %v %v learnt, %v %v kept", text, a, x, b, y)
		}
	}
	for _, other := range [][]Topic{
		tea[:1], {tea[1], tea[0]}, {tea[0], {ID: "mug", Asked: tea[1].Asked}},
		{tea[0], {ID: "cup", Asked: tea[1].Asked[:2]}},
	} {
		if _, known, err := remembered(file, withChatter(other)); known || err != nil {
			t.Errorf("%v is taken for others: %v", other, err)
		}
	}
	if _, _, err := remembered(file[:len(file)-1], withChatter(tea)); err == nil {
		t.Error("a file that ends early is taken")
	}
	if _, known, err := remembered(nil, withChatter(tea)); known || err != nil {
		t.Errorf("nothing is taken for something: %v", err)
	}
}
