// Package headings knows the words that banks write into tables: what heads a column, which way
// an amount went, whether a line is booked; in the languages of the countries that a shop can be in.
// All of them are from memory.
package headings

import (
	"strings"
	"unicode"
)

// Role says what a column holds.
type Role string

// The roles of columns. The names stand in what is remembered of a table.
const (
	ByDay      Role = "day"
	ByValueDay Role = "value-day"
	ByAmount   Role = "amount"
	ByCredit   Role = "credit"
	ByDebit    Role = "debit"
	BySign     Role = "sign"
	ByCurrency Role = "currency"
	ByBalance  Role = "balance"
	ByRef      Role = "ref"
	ByName     Role = "name"
	ByText     Role = "text"
	ByStatus   Role = "status"
	ByAccount  Role = "account"
	ByFee      Role = "fee"
	ByOther    Role = "other" // of no use
)

// headings are the words that head columns. A heading fits by all of its words, else by
// one that begins so; longer ones are tried first, and the first role wins.
var headings = []struct {
	role  Role
	words string
}{
	{ByValueDay, "value date,value dt,effective date,valuta,valutadatum,wertstellung,wertstellungstag," +
		"valeur,date valeur,date de valeur,data waluty,data valuta,fecha valor,data valor,rentedatum," +
		"arvopaiva,valutadato,rentedato,ημερομηνια αξιας,валюта дата"},
	{ByDay, "booking date,booking day,posting date,post date,posted date,posted,transaction date," +
		"trans date,txn date,tran date,completed date,date posted,date,buchungstag,buchungsdatum," +
		"buchung,datum,date operation,date d operation,date de comptabilisation,date comptable," +
		"data operacji,data ksiegowania,data,data contabile,data operazione,fecha,fecha operacion," +
		"fecha contable,data lancamento,data mov,boekdatum,boekingsdatum,kirjauspaiva,bokforingsdag," +
		"bokforingsdato,bogforingsdato,dato,datum zauctovani,konyveles datuma,data tranzactiei," +
		"ημερομηνια,дата,tarih,kuupaev,datums"},
	{ByBalance, "bal,running bal,closing bal," +
		"balance,running balance,closing balance,account balance,ledger balance,saldo," +
		"saldo nach buchung,kontostand,solde,saldo po operacji,saldo contabile,saldo disponible," +
		"stan konta,zustatek,egyenleg,sold,υπολοιπο,остаток,bakiye,laufender saldo,balance after"},
	{ByCredit, "credit,credit amount,paid in,money in,deposit,deposits,haben,gutschrift,eingang," +
		"einnahmen,amount credit,amount in,betrag haben,credit eur,montant credit,uznania,wplywy,avere," +
		"accrediti,entrate,haber,abono,abonos,ingresos,credito,creditos,inkomend,bij,in,panot,insattning," +
		"indbetaling,inn,πιστωση,приход,alacak,jovairas"},
	{ByDebit, "debit,debit amount,paid out,money out,withdrawal,withdrawals,soll,lastschrift,belastung," +
		"amount debit,amount out,betrag soll,ausgang,ausgaben,montant debit,obciazenia,wydatki,dare," +
		"addebiti,uscite,debe,cargo,cargos,gastos,debito,debitos,uitgaand,af,out,otto,uttag,udbetaling,ut," +
		"χρεωση,расход,borc,terheles"},
	{BySign, "credit debit,debit credit,dr cr,cr dr,cd,dc,d c,c d,s h,soll haben,af bij,bij af,sign," +
		"sens,type,umsatztyp,indicator,credit debit indicator,transaction type,kreditdebet"},
	{ByFee, "fee,fees,charge,charges,gebuhr,entgelt,frais,prowizja,commissione,comision,kosten"},
	{ByAmount, "amount,transaction amount,value,betrag,umsatz,betrag eur,montant,kwota,kwota operacji," +
		"importo,importe,valor,montante,bedrag,maara,belopp,belob,belop,castka,objem,osszeg,suma,summa," +
		"sum,ποσο,сумма,tutar,iznos,znesek,amount eur"},
	{ByCurrency, "currency,ccy,wahrung,waehrung,devise,waluta,valuta,divisa,moneda,moeda,munt,muntsoort," +
		"valuutta,valuta kod,mena,deviza,νομισμα,doviz"},
	{ByRef, "ref,ref no,ref nr,cheque no,chq no,utr," +
		"reference,bank reference,transaction id,transaction reference,id,fitid,referenz," +
		"referenznummer,transaktionsnummer,reference operation,numer referencyjny,riferimento," +
		"referencia,referentie,transactiereferentie,viite,referens,reference number,αναφορα"},
	{ByName, "name,counterparty,counterparty name,payee,payer,beneficiary,beneficiary name,auftraggeber," +
		"empfanger,beguenstigter zahlungspflichtiger,begunstigter zahlungspflichtiger," +
		"zahlungsbeteiligter,name zahlungsbeteiligter,tiers,kontrahent,nadawca odbiorca,controparte," +
		"ordenante,beneficiario,tegenpartij,naam tegenpartij,naam,saaja maksaja,motpart,contrepartie"},
	{ByOther, "glaubiger id,creditor id,glaubiger identifikationsnummer,mandatsreferenz,mandate reference," +
		"sammlerreferenz,bic,blz,bankleitzahl,sort code,swift,mcc"},
	{ByStatus, "status,state,stato,estado,statut,zustand,tila"},
	{ByAccount, "account,account number,iban,konto,kontonummer,auftragskonto,compte,numero de compte," +
		"rachunek,conto,cuenta,conta,rekening,eigen rekening,tili,own account"},
	{ByText, "purpose,purpose of payment," +
		"description,details,narration,transaction details,transaction description,narrative,memo," +
		"particulars,text,remittance,remittance information,payment details,verwendungszweck," +
		"buchungstext,vorgang,libelle,motif,detail,tytul,tytul operacji,opis,opis operacji,descrizione," +
		"causale,concepto,descripcion,descritivo,descricao,omschrijving,mededeling,selite,viesti," +
		"beskrivning,beskrivelse,forklaring,tapahtuma," +
		"meddelande,tekst,popis,zprava,kozlemeny,detalii,περιγραφη,αιτιολογια,описание,назначение," +
		"aciklama"},
}

// Folded makes a heading comparable: small letters without accents, words parted
// by one blank, nothing in brackets.
func Folded(s string) string {
	if i := strings.IndexAny(s, "(["); i > 0 {
		s = s[:i]
	}
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		if to, ok := unaccented[r]; ok {
			b.WriteString(to)
		} else if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		} else {
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// unaccented leaves accents out, as people do who write headings without them.
var unaccented = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ı': "i", 'ς': "σ"}
	for plain, with := range map[string]string{
		"a": "àáâãäåāăą", "c": "çćĉċč", "d": "ď", "e": "èéêëēĕėęě", "g": "ğĝġģ", "i": "ìíîïĩīĭį", "l": "ĺļľ",
		"n": "ñńņň", "o": "òóôõöōŏő", "r": "ŕřŗ", "s": "śŝşšș", "t": "ťţț", "u": "ùúûüũūŭůűų", "y": "ýÿ",
		"z": "źżž",
		"α": "ά", "ε": "έ", "η": "ή", "ι": "ίϊΐ", "ο": "ό", "υ": "ύϋ", "ω": "ώ",
	} {
		for _, r := range with {
			m[r] = plain
		}
	}
	return m
}()

// headRoles is the table by heading.
var headRoles = func() map[string]Role {
	m := map[string]Role{}
	for _, h := range headings {
		for w := range strings.SplitSeq(h.words, ",") {
			if _, taken := m[w]; !taken {
				m[w] = h.role
			}
		}
	}
	return m
}()

// Likeness is how much a heading is like one that is known.
type Likeness int

// The likenesses, the least first.
const (
	Unlike Likeness = iota
	Ending          // its last words are one: "completed date"
	Begun           // its first words are one: "amount in euro"
	Itself
)

// Of finds what a heading says: by all of its words, else by as many of the first as
// are known, else of the last.
func Of(heading string) (Role, Likeness) {
	f := Folded(heading)
	if r, ok := headRoles[f]; ok {
		return r, Itself
	}
	for head := f; ; {
		i := strings.LastIndexByte(head, ' ')
		if i < 0 {
			break
		}
		head = head[:i]
		if r, ok := headRoles[head]; ok {
			return r, Begun
		}
	}
	for _, tail, more := strings.Cut(f, " "); more; _, tail, more = strings.Cut(tail, " ") {
		if r, ok := headRoles[tail]; ok {
			return r, Ending
		}
	}
	return "", Unlike
}
