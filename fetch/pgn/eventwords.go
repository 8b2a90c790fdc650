package pgn

import "strings"

// sign is what a word of an event tells.
type sign struct {
	speed     Speed
	blindfold bool
}

// The words for a speed in the languages of European players, in small letters and
// without marks (common practice; from memory). Words that mean two speeds, as
// 'rápidas' and 'quick', are left out: what they tell is not known.
var signs = signsOf(map[Speed]string{
	Bullet: "bullet hyperbullet ultrabullet",
	Blitz: `blitz blitzschach superblitz relampago relampagos llampec eclair lampo snelschaak snelschaken vluggeren
		vluggertjes lynskak lynsjakk lynsjakken blixt blixtschack pikashakki pikashakin hradskak valkmale zibens
		blyskawiczne blyskawicznych bleskovy bleskova bleskove villam villamsakk villamverseny hitropotezni
		hitropotezno brzopotezni brzopotezno yildirim блиц бліц μπλιτζ`,
	Rapid: `rapid rapids rapidplay rapidschach rapide rapides semirapide semirapides rapido rapida semirapidas
		semirrapidas semilampo schnellschach hurtigskak hurtigsjakk snabbschack atskak kiirmale szybkie szybkich
		pospeseni pospeseno ubrzani ubrzano hizli рапид быстрые быстрым швидкі ραπιντ`,
	Classical: "classical klassisch klassisches",
}, `blindfold blindschach blindschaak blindskak blindsjakk ciegas aveugle cieca cegas naslepo вслепую`)

func signsOf(speeds map[Speed]string, blindfold string) map[string]sign {
	out := map[string]sign{}
	for speed, words := range speeds {
		for word := range strings.FieldsSeq(words) {
			out[word] = sign{speed: speed}
		}
	}
	for word := range strings.FieldsSeq(blindfold) {
		out[word] = sign{blindfold: true}
	}
	return out
}

// wordTails are what words for a speed are put together with.
var wordTails = setOf(`s em wm dm sm nm chess schach schaak schack skak sjakk sakk sah saha sahu shakki turnier turniere
	turnering turneringen tournament toernooi torneo tornei tournoi turniej verseny bajnoksag meisterschaft
	meisterschaften einzelmeisterschaft mannschaftsmeisterschaft kampioenschap mesterskab mesterskap masterskap
	pokal cup open grandprix serie liga league team play game games`)

func setOf(words string) map[string]bool {
	out := map[string]bool{}
	for word := range strings.FieldsSeq(words) {
		out[word] = true
	}
	return out
}

// unmarked is the letter without its marks, of letters that the words above have.
var unmarked = map[rune]rune{
	'á': 'a', 'à': 'a', 'â': 'a', 'ã': 'a', 'ä': 'a', 'å': 'a', 'ą': 'a', 'ç': 'c', 'č': 'c', 'ć': 'c', 'ď': 'd', 'ð': 'd',
	'é': 'e', 'è': 'e', 'ê': 'e', 'ë': 'e', 'ě': 'e', 'ę': 'e', 'í': 'i', 'ì': 'i', 'î': 'i', 'ï': 'i', 'ı': 'i',
	'ł': 'l', 'ñ': 'n', 'ń': 'n', 'ó': 'o', 'ò': 'o', 'ô': 'o', 'õ': 'o', 'ö': 'o', 'ø': 'o', 'ř': 'r', 'ś': 's', 'š': 's',
	'ú': 'u', 'ù': 'u', 'û': 'u', 'ü': 'u', 'ů': 'u', 'ý': 'y', 'ž': 'z', 'ź': 'z', 'ż': 'z', 'ά': 'α',
}
