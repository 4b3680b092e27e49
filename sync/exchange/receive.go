package exchange

import (
	"time"

	"jointwalk/sync/journal"
)

// Sender is who pushed: the device of the session and its own clock at that moment (zero when it did not say).
type Sender struct {
	Device string
	Clock  time.Time
}

// SplitBatch cuts the body of a push into lines. Empty lines are left out. Error: CodeTooMuch beyond MaxBatch or MaxBatchBytes.
func SplitBatch(body []byte) ([]journal.Line, error) { panic("exchange: not built yet") }

// Receive takes pushed lines into the store and answers for each. allow gives the code with which an event is set aside,
// or "" when its sender may write it. A line that cannot be parsed is set aside with the code of
// journal.Parse. An error means that nothing was kept: the phone keeps all and tries again.
func Receive(keeper Keeper, lines []journal.Line, sender Sender, now time.Time, allow func(journal.Event) string) (Answer, error) {
	panic("exchange: not built yet")
}
