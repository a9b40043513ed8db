package orders_test

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"

	"wellstowed/orders/act"
)

// Every method of the service that is told who acts refuses nobody at all by itself,
// whatever the pages let through.
func TestEveryMethodRefusesNobodyByItself(t *testing.T) {
	y := newYard(t)
	tried := 0
	for _, service := range []any{y.Service, y.Service.People, y.Customers, y.Prices, y.Eraser, y.accountService, y.caseService, y.auditService} {
		v := reflect.ValueOf(service)
		for i := range v.NumMethod() {
			name, m := v.Type().Method(i).Name, v.Method(i)
			args, told := nobodysArgs(t.Context(), m.Type())
			if !told {
				continue
			}
			tried++
			out := m.Call(args)
			err, _ := out[len(out)-1].Interface().(error)
			assert.Contains(t, []act.Kind{act.Unknown, act.Forbidden}, act.KindOf(err), "%s: %v", name, err)
		}
	}
	assert.Greater(t, tried, 60)
}

func nobodysArgs(ctx context.Context, m reflect.Type) (args []reflect.Value, told bool) {
	for i := range m.NumIn() {
		var arg any
		switch m.In(i) {
		case reflect.TypeFor[context.Context]():
			arg = ctx
		case reflect.TypeFor[act.Actor]():
			arg, told = act.Actor{}, true
		case reflect.TypeFor[act.Act]():
			arg, told = act.Act{Request: uuid.NewString()}, true
		default:
			args = append(args, reflect.Zero(m.In(i)))
			continue
		}
		args = append(args, reflect.ValueOf(arg))
	}
	return slices.Clip(args), told
}
