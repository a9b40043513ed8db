package act_test

import (
	"fmt"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

func TestKindOf(t *testing.T) {
	conflict := &act.Error{Kind: act.Conflict, Message: measure.Say("somebody was first"), Err: io.EOF}
	require.Equal(t, act.Conflict, act.KindOf(fmt.Errorf("saving: %w", conflict)))
	require.Equal(t, act.Internal, act.KindOf(io.EOF))
	require.ErrorIs(t, conflict, io.EOF)
	require.Equal(t, "conflict: somebody was first: EOF", conflict.Error())
}
