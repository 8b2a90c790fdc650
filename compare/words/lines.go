package words

// LinesTitle is the event of lines that are written as PGN.
const LinesTitle = "Lines to expect"
