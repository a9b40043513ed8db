package orders_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/orders/yard"
)

// A walk takes random steps, drawn by a seed, and tells what it did where it fails.
type walk struct {
	*sellerYard
	*rand.Rand
	trail []string
}

// walks takes some walks with seeds of their own, each on a new database.
func walks(t *testing.T, name string, steps int, step func(*walk) func()) {
	for seed := range uint64(4) {
		t.Run(fmt.Sprintf("%s %d", name, seed), func(t *testing.T) {
			w := &walk{sellerYard: newYard(t), Rand: rand.New(rand.NewPCG(seed, 7))}
			take := step(w)
			defer func() {
				if t.Failed() {
					t.Log("the walk so far:\n" + strings.Join(w.trail, "\n"))
				}
			}()
			for range steps {
				take()
			}
			w.noFaults()
		})
	}
}

// did notes a step, and whether it ended as the model says.
func (w *walk) did(allowed bool, err error, format string, args ...any) {
	w.t.Helper()
	w.trail = append(w.trail, fmt.Sprintf(format, args...)+fmt.Sprintf(": %v", err))
	require.Equal(w.t, allowed, err == nil, "%s", w.trail[len(w.trail)-1])
}

// quarters words quarter cords as somebody types them.
func quarters(n int) string { return fmt.Sprintf("%d cu ft", 32*n) }

func quartersOf(v measure.Volume) int { return int(v / (measure.Cord / 4)) }

// A load as the model of a batch knows it, in quarter cords.
type modelLoad struct {
	receipt int64 // that stands for it now
	n       int
	counted bool // it left before the batch was last counted
}

// A modelBatch is what is known of a batch, in quarter cords: what lay there when it was
// last counted, and the loads that stand.
type modelBatch struct {
	id     string
	held   int
	usedUp bool
	loads  []modelLoad
}

func (m modelBatch) left() int {
	left := m.held
	for _, l := range m.loads {
		if !l.counted {
			left -= l.n
		}
	}
	return max(left, 0)
}

// Whatever is drawn, made void, corrected, counted and ended, a batch holds what a model
// of it says, and refuses what the model can't give.
func TestABatchWalksAsItsModel(t *testing.T) {
	t.Parallel()
	walks(t, "batch", 40, func(w *walk) func() {
		m := &modelBatch{held: 12}
		m.id = w.putUp(func(r *yard.BatchRequest) { r.Quantity, r.Certificate = "3 cords", "" }).ID
		return func() {
			w.batchStep(m)
			b := w.batch(m.id)
			require.Equal(w.t, m.left(), quartersOf(b.Left.Volume), "%v", w.trail)
			require.Equal(w.t, m.usedUp, b.UsedUp)
			require.Len(w.t, b.Loads, len(m.loads))
		}
	})
}

func (w *walk) batchStep(m *modelBatch) {
	n := 1 + w.IntN(6)
	some := len(m.loads) > 0
	var l *modelLoad
	if some {
		l = &m.loads[w.IntN(len(m.loads))]
	}
	switch kind := w.IntN(10); {
	case kind < 4 || !some && kind < 7:
		order := goodOrder()
		order.Quantity, order.Origin = "2 cords", "Slate County, New York"
		issued, err := w.Deliver(w.ctx, w.act(), w.take(order).ID, orders.LoadRequest{Delivered: quarters(n), Batch: m.id})
		w.did(!m.usedUp && n <= m.left(), err, "draw %d of %d", n, m.left())
		if err == nil {
			m.loads = append(m.loads, modelLoad{receipt: issued.Receipt.Facts.Number, n: n})
		}
	case kind < 5:
		_, err := w.Void(w.ctx, w.act(), l.receipt, orders.VoidRequest{Reason: "it came back"})
		w.did(true, err, "void %d", l.receipt)
		m.loads = slices.DeleteFunc(m.loads, func(o modelLoad) bool { return o.receipt == l.receipt })
	case kind < 7 && n != l.n:
		issued, err := w.Correct(w.ctx, w.act(), l.receipt, w.correction(l.receipt, func(r *orders.CorrectionRequest) { r.Delivered = quarters(n) }))
		w.did(l.counted || n <= m.left()+l.n, err, "correct %d from %d to %d, left %d", l.receipt, l.n, n, m.left())
		if err == nil {
			l.receipt, l.n = issued.Receipt.Facts.Number, n
		}
	case kind == 8:
		_, err := w.EndBatch(w.ctx, w.act(), m.id, yard.BatchEnd{Rest: "the last of it was bark"})
		w.did(!m.usedUp, err, "end")
		m.usedUp = true
	default:
		_, err := w.CountBatch(w.ctx, w.act(), m.id, yard.BatchCount{Left: quarters(n + 4), Reason: "a row was given away"})
		w.did(true, err, "count %d", n+4)
		m.held, m.usedUp = n+4, false
		for i := range m.loads {
			m.loads[i].counted = true
		}
	}
}

// A modelCase is what is known of a buyer's case: what the last tally of it shows, and
// who spoke last.
type modelCase struct {
	code     string
	receipt  int64 // that stands for the load now
	quarters int
	tally    string // "", "short" or "enough"
	sold     int    // what it was held against, in quarters
	spoke    string // "", or the step that the last words lead to
	claimed  bool
	answered bool // and not replied to
}

func (m modelCase) step() cases.Step {
	switch {
	case m.tally == "" || m.sold != m.quarters:
		return cases.MeasureFirst
	case m.tally == "enough":
		return cases.NothingShown
	case m.spoke == "":
		return cases.TellSeller
	}
	return cases.Step(m.spoke)
}

// Whatever buyer and seller measure and say, the next step is the one a model of the
// exchange gives, and words out of turn are refused.
func TestACaseWalksAsItsModel(t *testing.T) {
	t.Parallel()
	walks(t, "case", 40, func(w *walk) func() {
		m := &modelCase{receipt: 1, quarters: 4}
		order := goodOrder()
		order.Quantity = "2 cords"
		w.deliver(w.take(order).ID, orders.LoadRequest{Delivered: quarters(4)})
		m.code = w.link(1)
		return func() {
			w.caseStep(m)
			f, err := w.CaseFile(w.ctx, act.Actor{}, cases.Key{Code: m.code})
			require.NoError(w.t, err)
			require.Equal(w.t, m.step(), f.Step, "%v", w.trail)
			waiting, err := w.Unanswered(w.ctx, owner)
			require.NoError(w.t, err)
			waits := m.spoke == string(cases.AwaitSeller) || m.spoke == string(cases.AskOffice)
			if m.spoke != string(cases.WithOffice) { // what came before it still counts
				require.Equal(w.t, waits, len(waiting) == 1, "%v", w.trail)
			}
		}
	})
}

func (w *walk) caseStep(m *modelCase) {
	buyer, seller := cases.Key{Code: m.code}, cases.Key{Receipt: 1}
	say := func(by act.Act, key cases.Key, allowed bool, r cases.EntryRequest, next cases.Step) bool {
		_, err := w.AddEntry(w.ctx, by, key, r)
		w.did(allowed, err, "%s %s%s by %s", r.Kind, r.Remedy, r.Accepts, by.Actor.Role)
		if err == nil {
			m.spoke = string(next)
		}
		return err == nil
	}
	switch w.IntN(9) {
	case 0, 1:
		doc, found := meagreTally(), "short"
		if w.IntN(2) == 0 {
			doc, found = plentyTally(), "enough"
		}
		_, err := w.SaveCaseTally(w.ctx, buyerAct(), buyer, orders.TallyRequest{Document: doc})
		w.did(true, err, "measure %s", found)
		m.tally, m.sold = found, m.quarters
	case 2:
		if say(buyerAct(), buyer, true, cases.EntryRequest{Kind: "claim", Text: "Less is here."}, cases.AwaitSeller) {
			m.claimed = true
		}
	case 3, 4:
		if say(w.act(), seller, m.claimed, cases.EntryRequest{Kind: "answer", Remedy: "wood"}, cases.WeighAnswer) {
			m.answered = true
		}
	case 5:
		if say(buyerAct(), buyer, m.answered, cases.EntryRequest{Kind: "reply", Accepts: "yes"}, cases.Carried) {
			m.answered = false
		}
	case 6:
		if say(buyerAct(), buyer, m.answered, cases.EntryRequest{Kind: "reply", Accepts: "no"}, cases.AskOffice) {
			m.answered = false
		}
	case 7:
		say(buyerAct(), buyer, true, cases.EntryRequest{Kind: "office", Text: "Slate County."}, cases.WithOffice)
		say(w.act(), seller, false, cases.EntryRequest{Kind: "claim", Text: "The seller’s words as the buyer’s."}, "")
	case 8:
		n := 7 - m.quarters // three or four
		was := m.receipt
		issued, err := w.Correct(w.ctx, w.act(), was, w.correction(was, func(r *orders.CorrectionRequest) { r.Delivered = quarters(n) }))
		w.did(true, err, "correct to %d", n)
		m.receipt, m.quarters = issued.Receipt.Facts.Number, n
	}
}

// meagreTally is about half a cord.
func meagreTally() []byte {
	return []byte(strings.ReplaceAll(string(shortTally()), `"length": "84 in"`, `"length": "60 in"`))
}

// plentyTally is more than a cord, by any reading.
func plentyTally() []byte {
	return []byte(strings.ReplaceAll(string(cordTally()), `"length": "96 in"`, `"length": "130 in"`))
}

// Truck beds are in use until they are retired, and a load fills one that is.
func TestTruckBedsWalkAsTheirModel(t *testing.T) {
	t.Parallel()
	walks(t, "beds", 40, func(w *walk) func() {
		var inUse, retired []yard.Body
		return func() {
			w.bedStep(&inUse, &retired)
			now, err := w.Bodies(w.ctx, driver)
			require.NoError(w.t, err)
			require.Len(w.t, now, len(inUse))
			for i := range now {
				require.Equal(w.t, inUse[i], now[i])
			}
		}
	})
}

func (w *walk) bedStep(inUse, retired *[]yard.Body) {
	of := func(list []yard.Body) (yard.Body, bool) {
		if len(list) == 0 {
			return yard.Body{ID: newRequest()}, false
		}
		return list[w.IntN(len(list))], true
	}
	switch w.IntN(7) {
	case 0, 1:
		high := 12 * (1 + w.IntN(4))
		b, err := w.AddBody(w.ctx, w.act(), yard.BodyRequest{Name: fmt.Sprintf("truck %d", len(w.trail)), Line: "top board", Arrangement: "ranked",
			Length: "8", Width: "4", Height: fmt.Sprint(high)})
		w.did(true, err, "tape a bed %d in high", high)
		require.InDelta(w.t, float64(high)/48, b.Quantity.Volume.In(measure.Cord), 1e-9, "8 ft by 4 ft")
		*inUse = append(*inUse, b)
	case 2:
		b, known := of(*inUse)
		err := w.RetireBody(w.ctx, w.act(), b.ID)
		w.did(known, err, "retire %s", b.Name)
		if known {
			*inUse = slices.DeleteFunc(*inUse, func(o yard.Body) bool { return o.ID == b.ID })
			*retired = append(*retired, b)
		}
	case 3:
		b, _ := of(*retired)
		w.did(false, w.RetireBody(w.ctx, w.act(), b.ID), "retire %s again", b.Name)
	default:
		list := *inUse
		if w.IntN(4) == 0 {
			list = *retired
		}
		b, known := of(list)
		known = known && slices.ContainsFunc(*inUse, func(o yard.Body) bool { return o.ID == b.ID })
		order := goodOrder()
		order.Quantity = "2 cords"
		issued, err := w.Deliver(w.ctx, w.act(), w.take(order).ID, orders.LoadRequest{Body: b.ID})
		w.did(known, err, "deliver in %s", b.Name)
		if known {
			f := issued.Receipt.Facts
			require.Equal(w.t, b.Quantity, f.Delivered)
			require.Equal(w.t, &yard.BodyFact{Name: b.Name, Line: b.Line, On: b.On, By: b.By}, f.Body)
		}
	}
}
