package published

// Unused are the cases that no test runs, by their ids, with the reason.
var Unused = map[string]string{
	"size-id1-w": "the card is a scale in pictures, and nothing reads one off a picture yet",
	"size-id1-h": "the card is a scale in pictures, and nothing reads one off a picture yet",
}
