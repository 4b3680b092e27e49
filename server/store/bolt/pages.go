package bolt

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
)

// What bbolt's file of format 2 looks like, as far as its pages lead to each other. bbolt itself follows a spoilt page
// number wherever it leads, out of the file or round in a circle for ever, so they are walked here before it checks.
const (
	pageHead    = 16 // id 8, flags 2, count 2, overflow 4
	elementSize = 16
	bucketHead  = 16 // root 8, sequence 8

	flagBranch, flagLeaf, flagFreelist = 0x01, 0x02, 0x10
	flagBucket                         = 0x01 // of an element of a leaf

	metaMagic = 0xED0CDAED
	metaSize  = 64 // magic, version, page size, flags 4 each; root bucket 16; freelist, end, transaction, checksum 8 each
)

// walk visits the pages of a file.
type walk struct {
	file io.ReaderAt
	size uint64 // of a page
	end  uint64 // the first page number that is not used
	seen map[uint64]bool
}

// meta is what the newest meta page says.
type meta struct{ size, root, freelist, end, transaction uint64 }

var native = binary.NativeEndian

// walkPages gives an error when a page leads nowhere, or two lead to one.
func walkPages(file io.ReaderAt, length int64) error {
	m, err := newestMeta(file)
	if err != nil {
		return err
	}
	if m.end > uint64(length)/m.size {
		return errors.New("the file is cut")
	}
	w := &walk{file, m.size, m.end, map[uint64]bool{}}
	if err := w.freelist(m.freelist); err != nil {
		return err
	}
	return w.visit(m.root)
}

// newestMeta reads the two meta pages. The second lies where the first says that a page ends, or where pages of
// common sizes do.
func newestMeta(file io.ReaderAt) (newest meta, err error) {
	for _, at := range []int64{0, 1 << 12, 1 << 13, 1 << 14, 1 << 16} {
		if m, whole := readMeta(file, at); whole && (newest.size == 0 || m.transaction > newest.transaction) {
			newest = m
		}
	}
	if newest.size == 0 {
		return newest, errors.New("neither of the two first pages is whole")
	}
	return newest, nil
}

func readMeta(file io.ReaderAt, at int64) (m meta, whole bool) {
	raw := make([]byte, metaSize)
	if _, err := file.ReadAt(raw, at+pageHead); err != nil {
		return m, false
	}
	sum := fnv.New64a()
	_, _ = sum.Write(raw[:metaSize-8]) // never fails
	m = meta{uint64(native.Uint32(raw[8:])), native.Uint64(raw[16:]), native.Uint64(raw[32:]), native.Uint64(raw[40:]), native.Uint64(raw[48:])}
	place := at == 0 || uint64(at) == m.size
	return m, native.Uint32(raw) == metaMagic && native.Uint64(raw[56:]) == sum.Sum64() && m.size >= 512 && place
}

// page reads a page with all that it overflows into, and notes that it has its place.
func (w *walk) page(id uint64) (raw []byte, flags uint16, err error) {
	if id < 2 || id >= w.end {
		return nil, 0, fmt.Errorf("page %d is outside of the file", id)
	}
	head := make([]byte, pageHead)
	if _, err := w.file.ReadAt(head, int64(id*w.size)); err != nil {
		return nil, 0, err
	}
	overflow := uint64(native.Uint32(head[12:]))
	if native.Uint64(head) != id || overflow >= w.end-id {
		return nil, 0, fmt.Errorf("page %d is spoilt", id)
	}
	for n := id; n <= id+overflow; n++ {
		if w.seen[n] {
			return nil, 0, fmt.Errorf("page %d is in two places", n)
		}
		w.seen[n] = true
	}
	raw = make([]byte, (overflow+1)*w.size)
	_, err = w.file.ReadAt(raw, int64(id*w.size))
	return raw, native.Uint16(head[8:]), err
}

// freelist holds the list of free pages to lie within its pages.
func (w *walk) freelist(id uint64) error {
	raw, flags, err := w.page(id)
	if err != nil {
		return err
	}
	count := uint64(native.Uint16(raw[10:]))
	if count == 0xFFFF {
		count = native.Uint64(raw[pageHead:]) + 1
	}
	if flags != flagFreelist || count > uint64(len(raw)-pageHead)/8 {
		return fmt.Errorf("page %d, the list of free pages, is spoilt", id)
	}
	return nil
}

// visit follows all that a page leads to.
func (w *walk) visit(id uint64) error {
	raw, flags, err := w.page(id)
	if err != nil {
		return err
	}
	return w.elements(id, raw, flags)
}

// elements follows the elements of a page, or of a small bucket's that lies within another.
func (w *walk) elements(id uint64, raw []byte, flags uint16) error {
	count := int(native.Uint16(raw[10:]))
	if flags != flagBranch && flags != flagLeaf || pageHead+count*elementSize > len(raw) || flags == flagBranch && count == 0 {
		return fmt.Errorf("page %d is spoilt", id)
	}
	for i := range count {
		at := pageHead + i*elementSize
		follow := w.leaf
		if flags == flagBranch {
			follow = w.branch
		}
		if err := follow(id, raw[at:]); err != nil {
			return err
		}
	}
	return nil
}

// branch follows an element that leads to a page; element begins with it and reaches to the end of its page.
func (w *walk) branch(id uint64, element []byte) error {
	if _, err := within(id, element, native.Uint32(element), native.Uint32(element[4:])); err != nil {
		return err
	}
	return w.visit(native.Uint64(element[8:]))
}

// leaf follows an element that is a record or a bucket.
func (w *walk) leaf(id uint64, element []byte) error {
	pos, keyLength := native.Uint32(element[4:]), native.Uint32(element[8:])
	if _, err := within(id, element, pos, keyLength); err != nil {
		return err
	}
	value, err := within(id, element, pos+keyLength, native.Uint32(element[12:]))
	if err != nil || native.Uint32(element)&flagBucket == 0 {
		return err
	}
	if len(value) < bucketHead {
		return fmt.Errorf("page %d holds a spoilt bucket", id)
	}
	if root := native.Uint64(value); root != 0 {
		return w.visit(root)
	}
	inside := value[bucketHead:]
	if len(inside) < pageHead {
		return fmt.Errorf("page %d holds a spoilt bucket", id)
	}
	return w.elements(id, inside, native.Uint16(inside[8:]))
}

// within is a part of what follows an element in its page.
func within(id uint64, element []byte, pos, length uint32) ([]byte, error) {
	if uint64(pos)+uint64(length) > uint64(len(element)) {
		return nil, fmt.Errorf("page %d is spoilt", id)
	}
	return element[pos:][:length], nil
}
