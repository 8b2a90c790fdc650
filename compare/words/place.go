package words

import (
	"path"
	"strconv"
)

// placed says where something stands in the repertoire: file and line; nothing of
// no file.
func placed(phrase, file string, line int) Clause {
	if file == "" {
		return nil
	}
	text := path.Base(file)
	if line > 0 {
		text += ":" + strconv.Itoa(line)
	}
	return say(phrase, Span{Kind: Place, Text: text})
}
