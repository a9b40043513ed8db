//go:build wasm

// Phone is the measuring page's own answer, for a browser without a server to ask: it takes
// a page and its form as JSON and gives what live.Part does. Built by build.sh.
package main

import (
	"encoding/json"
	"unsafe"

	"wellstowed/web/live"
)

func main() {}

// question and answer are where the page writes and reads; they stay where they are
// between a call and the next.
var question, answer []byte

// room makes room for a question of n bytes, and says where.
//
//go:wasmexport room
func room(n int32) unsafe.Pointer {
	question = make([]byte, max(n, 1))
	return unsafe.Pointer(&question[0])
}

// ask answers the question, and says how long the answer is.
//
//go:wasmexport ask
func ask() int32 {
	var asked struct {
		Page   live.Page   `json:"page"`
		Fields [][2]string `json:"fields"`
	}
	var said struct {
		OK    bool   `json:"ok"`
		Part  string `json:"part"`
		Fault string `json:"fault,omitempty"` // of the program
	}
	err := json.Unmarshal(question, &asked)
	if err == nil {
		fields := make([]live.Field, len(asked.Fields))
		for i, f := range asked.Fields {
			fields[i] = live.Field{Name: f[0], Value: f[1]}
		}
		said.Part, said.OK, err = live.Part(asked.Page, fields)
	}
	if err != nil {
		said.Fault = err.Error()
	}
	answer, _ = json.Marshal(said) // of texts and a flag: always
	return int32(len(answer))
}

// told is where the answer is.
//
//go:wasmexport told
func told() unsafe.Pointer { return unsafe.Pointer(&answer[0]) }
