package secrets

import "strings"

// strength says how surely a word names a secret.
type strength int

const (
	said   strength = iota + 1 // "code": machines have codes too
	holds                      // a safe: sums lie in it
	place                      // an alarm, a door: has nothing but a code
	strong                     // a combination, a pin
)

// set makes a lookup of words.
func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

var (
	// names are the words that name a secret, or the thing it opens.
	names = func() map[string]strength {
		m := map[string]strength{}
		for s, words := range map[strength]string{
			strong: `pin pincode pins combi combo combination kombination combinaison combinación combinazione
			kombinacja passcode
				tan mtan puk otp 2fa alarmcode türcode zahlencode szyfr numerkombination
				geheimzahl safecode doorcode clave padlock`,
			place: `lockbox allarme alarm panel siren entrance login signin lock keypad keysafe keybox gate
				door shutter tür porte puerta porta drzwi alarmu alarme alarma`,
			holds: `safe vault strongroom tresor coffre caja cassaforte cofre sejf sejfu kasa kluis`,
		} {
			for w := range set(words) {
				m[w] = s
			}
		}
		return m
	}()
	// codeWords are words for a code that a machine may show as well.
	codeWords = set("code codes código codigo codice kod kodu numbers")
	// joins may stand between a name and its figure.
	joins = set(`the a as is was are it its it's now new number no nr num pin code numbers combination
	combi dial opens open with you need : for
		of to be set now still today please ok so and on our my me your his her their off use that that's
		thats changed box key
		one back front office small staff big roller shutter dont don't forget you get this means be ist die
		der das le la el è é est es
		du de della do da fuerte caja un`)
	// states say that what follows or went before is the secret.
	states = set(`is are was be opens open ist est es è é lautet jest to now = means
		uses use changed thats that's`)
	// owners make a code somebody's.
	owners = set(`uses use texted my our your his her their new old personal master manager managers boss
	supervisor engineer service opening
		entry access unlock security verification one-time onetime time sms start der le la el il o del`)
	// noSecret are words of machines, slips and letters: what stands beside them is theirs.
	noSecret = set(`screen display error errors fault faults shows showing slip receipt ref reference
	ticket invoice order tel
		hotline telephone serial badge postcode promo discount voucher product country area zip postal sort tax
		host response status printer machine contract customer customer's customers account iban vat went rang
		rings ring call
		rejected wrong broken beeped delay battery weighs grade minutes times pad auth approval authorisation
		authorization terminal trace batch settlement seal bag plug company message barcode currency qr list page
		somebody's typed parcel pickup delivery courier`)
	// otherCode are words that make "code" one that is no secret.
	otherCode = set(`error fault status host response promo discount voucher product country area zip
	postal post sort tax bar
		currency qr auth authorisation authorization approval reason return exit`)
	// onPaper say where a code was read.
	onPaper = set("screen display slip receipt badge list page again")
	// moments come before a time of day.
	moments = set("at since from until till by before after around about to")
	// callers are people and firms that come: what follows them is a time.
	callers = set("engineer company service guy man people technician electrician")
	months  = set("january february march april may june july august september october november december")
	// gave are words for handing a code over.
	gave = set("texted sent gave got told messaged")
	// units make a figure money, notes, a time or a measure.
	units = set(`x notes note fifties twenties tens fives hundreds euro euros eur pound pounds quid dollars
	dollar cents am pm
		o'clock hours minutes days kg volt tenners fivers bundles bundle grand k times twentys each left right s`)
	digitWords = map[string]string{"zero": "0", "oh": "0", "nought": "0", "one": "1", "two": "2", "three": "3",
		"four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9"}
	// pairs are two words for one thing.
	pairs = map[string]string{"key safe": "keysafe", "key box": "keybox", "pass code": "passcode",
		"lock box": "keybox", "cash box": "cashbox", "key pad": "keypad", "car park": "carpark",
		"hold up": "holdup", "wi fi": "wifi",
		"pass word": "password", "strong room": "strongroom", "pin code": "pincode",
		"log in": "login", "sign in": "login", "sign for": "login"}
	// presses are what one does at a keypad.
	presses = set("use press type enter punch tap put key hit dial")
	tens    = map[string]string{"twenty": "2", "thirty": "3", "forty": "4", "fifty": "5", "sixty": "6",
		"seventy": "7",
		"eighty":  "8", "ninety": "9"}
	repeats = map[string]int{"double": 2, "treble": 3, "triple": 3}
)
