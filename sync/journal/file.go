package journal

import "io"

// File is the little that the journal asks of a file. An implementation returns an error when
// fewer bytes than asked were written (a Fault with CodeStorageFull where it knows that the disk
// is full), and io.EOF from ReadAt as io.ReaderAt says. The journal checks every write again: count,
// size after the flush, and the bytes read back.
type File interface {
	io.ReaderAt
	io.WriterAt
	Truncate(size int64) error
	Sync() error
	Size() (int64, error)
}

// Memory is a File that keeps its bytes in memory only: for a phone that lends no files, and for tests.
// The zero Memory is an empty file.
type Memory struct{ data []byte }

// ReadAt implements io.ReaderAt.
func (m *Memory) ReadAt(p []byte, off int64) (int, error) {
	if off < 0 || off >= int64(len(m.data)) {
		return 0, io.EOF
	}
	n := copy(p, m.data[off:])
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// WriteAt implements io.WriterAt; a gap is filled with zeros.
func (m *Memory) WriteAt(p []byte, off int64) (int, error) {
	if off < 0 {
		return 0, fault(CodeWriteFailed, "negative offset")
	}
	if grow := off + int64(len(p)) - int64(len(m.data)); grow > 0 {
		m.data = append(m.data, make([]byte, grow)...)
	}
	return copy(m.data[off:], p), nil
}

// Truncate cuts or extends the file.
func (m *Memory) Truncate(size int64) error {
	if size < 0 {
		return fault(CodeWriteFailed, "negative size")
	}
	if size > int64(len(m.data)) {
		m.data = append(m.data, make([]byte, size-int64(len(m.data)))...)
	}
	m.data = m.data[:size]
	return nil
}

// Sync does nothing: memory is all there is.
func (m *Memory) Sync() error { return nil }

// Size is the number of bytes held.
func (m *Memory) Size() (int64, error) { return int64(len(m.data)), nil }
