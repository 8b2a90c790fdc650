package fetch

import (
	"archive/tar"
	"archive/zip"
	"bufio"
	"cmp"
	"compress/bzip2"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/klauspost/compress/zstd"
)

// opener finds the texts in one file on disk: unpacked, out of archives, by
// content and not by ending.
type opener struct {
	ctx    context.Context
	limits Limits
	guard  *guard
	each   func(name string, text io.Reader) error // reads one text
	fail   func(name string, err error)            // notes a member that can't be read
	read   func(n int)                             // told of bytes from disk
}

// file hands every text of f to each.
func (o *opener) file(f *file, in io.Reader) error {
	packed := &packedReader{ctx: o.ctx, r: in, read: o.read}
	o.guard = &guard{limits: o.limits, packed: func() int64 { return max(packed.n, f.size) }}
	if at, ok := in.(io.ReaderAt); ok && f.size > 0 && startsAsZip(at) {
		return o.zip(f.name, &packedReaderAt{packed, at}, f.size, 0)
	}
	return o.layer(f.name, packed, 0)
}

func startsAsZip(at io.ReaderAt) bool {
	head := make([]byte, 4)
	n, _ := at.ReadAt(head, 0)
	form, _ := sniff(head[:n])
	return form == zipForm
}

// packedReaderAt counts like packedReader, for archives that are read out of order.
type packedReaderAt struct {
	count *packedReader
	at    io.ReaderAt
}

func (p *packedReaderAt) ReadAt(b []byte, off int64) (int, error) {
	if err := context.Cause(p.count.ctx); err != nil {
		return 0, err
	}
	n, err := p.at.ReadAt(b, off)
	p.count.n += int64(n)
	p.count.read(n)
	return n, err
}

// layer reads what is packed in r, or r itself when it is text.
func (o *opener) layer(name string, r io.Reader, depth int) error {
	in := bufio.NewReaderSize(r, 64<<10)
	head, err := in.Peek(sniffLength)
	if err != nil && err != io.EOF && len(head) == 0 { // else it comes again behind the head
		return err
	}
	form, what := sniff(head)
	if depth >= deepest && form >= gzipForm && form <= tarForm {
		return overLimit("it is packed more than %d times over", deepest)
	}
	switch form {
	case textForm:
		return o.each(name, in)
	case gzipForm:
		unpacked, err := gzip.NewReader(in)
		if err != nil {
			return err
		}
		return o.layer(name, &guardedReader{o.guard, unpacked}, depth+1)
	case bzip2Form:
		return o.layer(name, &guardedReader{o.guard, bzip2.NewReader(in)}, depth+1)
	case zstdForm:
		return o.zstd(name, in, depth)
	case zipForm:
		return o.spool(name, in, depth)
	case tarForm:
		return o.tar(name, in, depth)
	}
	return notPGN(what, head)
}

func (o *opener) zstd(name string, in io.Reader, depth int) error {
	// One goroutine, this one: the guard counts below the decoder and above it.
	unpacked, err := zstd.NewReader(in, zstd.WithDecoderMaxWindow(zstdWindow), zstd.WithDecoderConcurrency(1))
	if err != nil {
		return err
	}
	defer unpacked.Close()
	err = o.layer(name, &guardedReader{o.guard, unpacked}, depth+1)
	if errors.Is(err, zstd.ErrWindowSizeExceeded) {
		return overLimit("unpacking it takes more than %d bytes of memory", zstdWindow)
	}
	return err
}

// spool keeps a zip archive that comes through a stream in a temporary file,
// since its list of members stands at the end.
func (o *opener) spool(name string, in io.Reader, depth int) error {
	temp, err := os.CreateTemp("", "foreply-*.zip")
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name())
	defer temp.Close()
	size, err := io.Copy(temp, io.LimitReader(in, spoolLimit+1))
	if err != nil {
		return err
	}
	if size > spoolLimit {
		return overLimit("an archive inside a stream has more than %d bytes", int64(spoolLimit))
	}
	return o.zip(name, temp, size, depth)
}

// zip reads the members that look like games by their names. Nothing is written
// to disk, so a member named ../../x is a name like any other.
func (o *opener) zip(name string, at io.ReaderAt, size int64, depth int) error {
	archive, err := zip.NewReader(at, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return err
	}
	if len(archive.File) > o.limits.Entries {
		return overLimit("it has %d members, more than %d", len(archive.File), o.limits.Entries)
	}
	found := false
	for _, member := range archive.File {
		if member.FileInfo().IsDir() || !isMember(member.Name) {
			continue
		}
		found = true
		inside := name + ":" + member.Name
		if err := o.member(inside, member, depth); o.ends(err) {
			return err
		} else if err != nil {
			o.fail(inside, err)
		}
	}
	if !found {
		return noMember()
	}
	return nil
}

// isMember tells games in an archive from what systems put beside them.
func isMember(name string) bool { return isGameFile(name) && !strings.HasPrefix(name, "__MACOSX/") }

func noMember() error {
	return &Error{errors.New("no games in the archive"), "it has no member ending in " + strings.Join(gameEndings, ", ")}
}

// tar reads the members that look like games, as zip does. They come one after
// another, so a damaged one ends the archive.
func (o *opener) tar(name string, in io.Reader, depth int) error {
	archive := tar.NewReader(in)
	found, failed := false, false
	for n := 1; ; n++ {
		member, err := archive.Next()
		switch {
		case err == io.EOF && !found:
			return noMember()
		case err == io.EOF, failed && errors.Is(err, io.ErrUnexpectedEOF): // it breaks off in the last member, as was said
			return nil
		case err != nil && !errors.Is(err, tar.ErrInsecurePath):
			return err
		case n > o.limits.Entries:
			return overLimit("it has more than %d members", o.limits.Entries)
		case member.Typeflag != tar.TypeReg || !isMember(member.Name):
			continue
		}
		found = true
		inside := name + ":" + member.Name
		err = o.layer(inside, archive, depth+1)
		if o.ends(err) {
			return err
		}
		if failed = err != nil; failed {
			o.fail(inside, err)
		}
	}
}

const encrypted = 1 // bit of zip.FileHeader.Flags

func (o *opener) member(name string, member *zip.File, depth int) error {
	if member.Flags&encrypted != 0 {
		return &Error{errors.New("the member is encrypted"), "unpack the archive with its password first"}
	}
	in, err := member.Open()
	if err != nil {
		return fmt.Errorf("opening the member: %w", err)
	}
	defer in.Close()
	return o.layer(name, &guardedReader{o.guard, in}, depth+1)
}

// ends tells errors after which the rest of the archive is not read either.
func (o *opener) ends(err error) bool {
	return errors.Is(err, errEnough) || errors.Is(err, ErrOverLimit) || o.ctx.Err() != nil
}

// Unpack hands the texts in a stream to each, as they come: the stream itself,
// what was packed in it, or the members of an archive that look like games. It
// goes by the content. A stream that breaks off ends with io.ErrUnexpectedEOF
// after what could be read; ErrNotPGN and ErrOverLimit say what else was wrong.
func Unpack(ctx context.Context, in io.Reader, limits Limits, each func(text io.Reader) error) error {
	var lost error
	packed := &packedReader{ctx: ctx, r: in, read: func(int) {}}
	o := &opener{
		ctx: ctx, limits: limits.orDefault(),
		each: func(_ string, text io.Reader) error { return each(text) },
		fail: func(name string, err error) {
			lost = cmp.Or(lost, fmt.Errorf("%s: %w", strings.TrimPrefix(name, ":"), err))
		},
	}
	o.guard = &guard{limits: o.limits, packed: func() int64 { return packed.n }}
	return cmp.Or(o.layer("", packed, 0), lost)
}
