package replicate

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/sim/invented"
)

func TestInterruptEndsAtOnce(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := invented.Study(invented.ZeroSpeed())
	s.Run.Horizon = 1e9
	_, err := Simulate(ctx, s, Options{})
	require.ErrorIs(t, err, context.Canceled)
}
