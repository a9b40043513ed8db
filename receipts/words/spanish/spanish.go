// Package spanish holds the program's sentences in Spanish, as it is spoken in the
// Americas: figures are written with a point for decimals, as people there type them.
//
// What people type stays as the grammars read it, in English (“2 cords”), and so do the
// names of rule sets and what they quote of the law.
package spanish

import (
	_ "embed"
	"encoding/json"
	"sync"
)

// Tag is the language as BCP 47 names it.
const Tag = "es-US"

//go:embed words.json
var file []byte

// words are read once, when somebody first asks for Spanish.
var words = sync.OnceValue(func() map[string]string {
	var read map[string]string
	if err := json.Unmarshal(file, &read); err != nil {
		panic("words.json: " + err.Error()) // it is part of the program, and a test reads it
	}
	return read
})

// Text gives the Spanish of a key, and tells whether there is any.
func Text(key string) (string, bool) {
	text, found := words()[key]
	return text, found
}
