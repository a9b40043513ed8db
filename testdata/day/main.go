// Day does a day's work of a shop by its API alone, as another program would: it puts up a
// batch, takes an order as it was read back, delivers it, keeps the receipt as a paper,
// takes the money, measures the wood, and reads the board. It says each step in a line.
//
//	WELLSTOWED_TOKEN=… go run ./testdata/day http://127.0.0.1:8128 testdata/example-short.json
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"

	"github.com/google/uuid"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "day: give the address of a shop and a file of readings")
		os.Exit(2)
	}
	s := shop{base: os.Args[1] + "/api/v1", token: os.Getenv("WELLSTOWED_TOKEN")}
	if err := s.day(os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "day:", err)
		os.Exit(1)
	}
}

// A shop is asked by its API.
type shop struct{ base, token string }

type order struct {
	ID     string `json:"id"`
	Number int    `json:"number"`
}

func (s shop) day(readings string) error {
	var batch struct {
		Name string `json:"name"`
	}
	if err := s.post("/batches", map[string]string{"name": "Day’s row", "species": "red oak", "quantity": "6 cords", "piece_length": "16 in", "cut": "not known", "split": "2024-03-01"}, &batch); err != nil {
		return err
	}
	fmt.Println("batch", batch.Name)
	taken, err := s.take(map[string]string{"customer_name": "Ada Moss", "customer_address": "12 Mill Road\nHartwell", "quantity": "1 cord", "species": "red oak",
		"piece_length": "16 in", "seasoning": "seasoned", "price_per_cord": "280"})
	if err != nil {
		return err
	}
	fmt.Println("order", taken.Number)
	number, err := s.deliver(taken)
	if err != nil {
		return err
	}
	fmt.Println("receipt", number)
	if err := s.settle(taken, readings); err != nil {
		return err
	}
	var board struct {
		Today string `json:"today"`
	}
	if err := s.get("/board", &board); err != nil {
		return err
	}
	fmt.Println("board of", board.Today)
	return nil
}

// take reads an order back and takes it as it was read.
func (s shop) take(wanted map[string]string) (taken order, err error) {
	var back struct {
		Confirmed string `json:"confirmed"`
	}
	if err := s.post("/orders/price", wanted, &back); err != nil {
		return taken, err
	}
	wanted["confirmed"] = back.Confirmed
	return taken, s.post("/orders", wanted, &taken)
}

// deliver delivers an order and looks at its receipt as a paper.
func (s shop) deliver(o order) (number int, err error) {
	var made struct {
		Receipt struct {
			Facts struct {
				Number int `json:"number"`
			} `json:"facts"`
		} `json:"receipt"`
	}
	if err := s.post("/orders/"+o.ID+"/deliver", map[string]string{}, &made); err != nil {
		return 0, err
	}
	number = made.Receipt.Facts.Number
	paper, err := s.ask(http.MethodGet, fmt.Sprintf("/receipts/%d/pdf", number), nil)
	if err == nil && !bytes.HasPrefix(paper, []byte("%PDF-")) {
		err = fmt.Errorf("receipt %d is no PDF", number)
	}
	return number, err
}

// settle takes half of the money and measures what was delivered.
func (s shop) settle(o order, readings string) error {
	if err := s.post("/orders/"+o.ID+"/payments", map[string]string{"paid": "140", "paid_by": "cash"}, nil); err != nil {
		return err
	}
	var owed struct {
		Balance struct {
			Due struct {
				Minor int64 `json:"minor"`
			} `json:"due"`
		} `json:"balance"`
	}
	if err := s.get("/orders/"+o.ID+"/payments", &owed); err != nil {
		return err
	}
	fmt.Println("still due", owed.Balance.Due.Minor)
	text, err := os.ReadFile(readings)
	if err != nil {
		return err
	}
	var tally map[string]json.RawMessage
	if err := json.Unmarshal(text, &tally); err != nil {
		return err
	}
	delete(tally, "sold") // the order says it
	var sheet struct {
		Sheet struct {
			Number int `json:"number"`
		} `json:"sheet"`
		Answer struct {
			Finding struct {
				Word string `json:"word"`
			} `json:"finding"`
		} `json:"answer"`
	}
	if err := s.post("/orders/"+o.ID+"/measure", tally, &sheet); err != nil {
		return err
	}
	fmt.Println("sheet", sheet.Sheet.Number, sheet.Answer.Finding.Word)
	return nil
}

func (s shop) get(path string, into any) error {
	body, err := s.ask(http.MethodGet, path, nil)
	if err != nil {
		return err
	}
	return json.Unmarshal(body, into)
}

// post does an act once, however often it's sent: the second sending is answered alike.
func (s shop) post(path string, what, into any) error {
	content, err := json.Marshal(what)
	if err != nil {
		return err
	}
	body, err := s.ask(http.MethodPost, path, content)
	if err != nil || into == nil {
		return err
	}
	return json.Unmarshal(body, into)
}

// ask asks once, and whatever changes something a second time by the same key.
func (s shop) ask(method, path string, content []byte) ([]byte, error) {
	key := uuid.NewString()
	body, err := s.send(method, path, key, content)
	if err != nil || method == http.MethodGet {
		return body, err
	}
	again, err := s.send(method, path, key, content)
	if err == nil && !bytes.Equal(body, again) {
		err = fmt.Errorf("%s: the same key was answered otherwise the second time", path)
	}
	return body, err
}

func (s shop) send(method, path, key string, content []byte) ([]byte, error) {
	r, err := http.NewRequest(method, s.base+path, bytes.NewReader(content))
	if err != nil {
		return nil, err
	}
	r.Header.Set("Authorization", "Bearer "+s.token)
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Idempotency-Key", key)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err == nil && answer.StatusCode >= 300 {
		err = fmt.Errorf("%s answered %d: %s", path, answer.StatusCode, body)
	}
	return body, err
}
