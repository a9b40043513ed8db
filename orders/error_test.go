package orders_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
)

func TestKindOf(t *testing.T) {
	conflict := &orders.Error{Kind: orders.Conflict, Message: measure.Say("somebody was first"), Err: io.EOF}
	require.Equal(t, orders.Conflict, orders.KindOf(fmt.Errorf("saving: %w", conflict)))
	require.Equal(t, orders.Internal, orders.KindOf(io.EOF))
	require.ErrorIs(t, conflict, io.EOF)
	require.Equal(t, "conflict: somebody was first: EOF", conflict.Error())
}

func TestEveryFailureIsAnError(t *testing.T) {
	y := newYard(t)
	ctx, cancel := context.WithCancel(y.ctx)
	cancel()
	for name, err := range map[string]error{
		"Ready":   y.Ready(ctx),
		"Shop":    second(y.Shop(ctx, owner)),
		"Take":    second(y.TakeOrder(ctx, y.act(), goodOrder())),
		"Deliver": second(y.Deliver(ctx, y.act(), "x", orders.LoadRequest{})),
		"Verify":  second(y.Verify(ctx, owner, nil)),
	} {
		var e *orders.Error
		require.True(t, errors.As(err, &e), name)
		require.Equal(t, orders.Internal, e.Kind, name)
		require.ErrorIs(t, err, context.Canceled, name)
	}
}

func second[T any](_ T, err error) error { return err }
