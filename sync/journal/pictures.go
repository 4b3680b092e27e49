package journal

// MaxPicture is the largest picture in bytes.
const MaxPicture = 8 << 20

// Picture is one picture on this device.
type Picture struct {
	Hash      string // hex SHA-256 of its bytes
	Size      int
	Confirmed bool // the server has it
}

// Pictures are the pictures of this device that wait for the server. The file is emptied when all are confirmed.
type Pictures struct{}

// Add keeps a picture, flushed. The same again does nothing. Errors: CodeBadPicture and those of a write.
func (p *Pictures) Add(hash string, bytes []byte) error { panic("journal: not built yet") }

// List gives all pictures in the order added.
func (p *Pictures) List() []Picture { panic("journal: not built yet") }

// Waiting is the number of pictures not confirmed.
func (p *Pictures) Waiting() int { panic("journal: not built yet") }

// Read gives the bytes of a picture, checked against its hash. Errors: CodeNoPicture, CodeBadPicture, CodeReadFailed.
func (p *Pictures) Read(hash string) ([]byte, error) { panic("journal: not built yet") }

// Confirm marks a picture as held by the server; when all are, the file is emptied. Unknown hashes are no error.
func (p *Pictures) Confirm(hash string) error { panic("journal: not built yet") }
