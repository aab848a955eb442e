package main

import (
	"runtime/debug"
	"sync"

	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
)

// builtin is the compiled table of the guides that the program comes with. To read
// what their phrases teach takes a moment and some memory, and to learn those of a
// shop's own guides half a second: so it happens once, when the first question
// comes, and a bot that nobody asks starts without it.
var builtin = sync.OnceValues(guides.Builtin)

var builtinIndex = sync.OnceValues(func() (*search.Index, error) {
	lib, err := builtin()
	if err != nil {
		return nil, err
	}
	return learn(lib)
})

// learning is held while the collector is set otherwise, which is so for all.
var learning sync.Mutex

// learn makes the question search. Most of what that takes is of no use
// afterwards: it is collected often meanwhile, and given back.
func learn(lib guides.Library) (*search.Index, error) {
	learning.Lock()
	defer learning.Unlock()
	defer debug.FreeOSMemory()
	defer debug.SetGCPercent(debug.SetGCPercent(30))
	return search.New(lib.Topics())
}

// guiding gives the chat its guides. Faults of the shop's own files are named
// at once; the search learns when it is first asked.
func guiding(e *env, folder string) (engine.Guiding, error) {
	lib, err := guideFlags{Guides: folder}.library(e)
	if err != nil {
		return engine.Guiding{}, err
	}
	index, ear := builtinIndex, builtinEar
	if folder != "" {
		index = sync.OnceValues(func() (*search.Index, error) { return learn(lib) })
		ear = sync.OnceValues(func() (*hearing.Ear, error) { return learntEar(index) })
	}
	return engine.Guiding{
		Library: lib,
		Find: func(text string) search.Answer {
			ix, err := index()
			if err != nil {
				return search.Answer{} // the word lists are part of the program, and tested
			}
			return ix.Search(text)
		},
		Ear: func() *hearing.Ear {
			e, _ := ear() // likewise
			return e
		},
	}, nil
}
