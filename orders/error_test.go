package orders_test

import (
	"context"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

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
		var e *act.Error
		require.True(t, errors.As(err, &e), name)
		require.Equal(t, act.Internal, e.Kind, name)
		require.ErrorIs(t, err, context.Canceled, name)
	}
}

func second[T any](_ T, err error) error { return err }
