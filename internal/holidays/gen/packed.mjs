// Says days as rules: f MMDD (fixed), e N and o N (days after Easter, western and
// orthodox), w MM n wd (nth weekday of a month, -1 the last), a MMDD wd (weekday on or
// after), m MMDD xxxxxxx (a fixed day that moves by its weekday, Sunday first: a figure
// is so many days on, a letter so many back, a full stop none that year), or d YYMMDD,...
// (a list). Years stand in front where a rule does not hold in all of them.
const DAY = 86400000
const utc = (y, m, d) => Date.UTC(y, m - 1, d)
const iso = (ms) => new Date(ms).toISOString().slice(0, 10)
const two = (n) => String(n).padStart(2, '0')

export function easter (y) { // anonymous Gregorian computus
  const a = y % 19; const b = Math.floor(y / 100); const c = y % 100
  const d = Math.floor(b / 4); const e = b % 4; const f = Math.floor((b + 8) / 25)
  const g = Math.floor((b - f + 1) / 3); const h = (19 * a + b - d - g + 15) % 30
  const i = Math.floor(c / 4); const k = c % 4; const l = (32 + 2 * e + 2 * i - h - k) % 7
  const m = Math.floor((a + 11 * h + 22 * l) / 451); const n = h + l - 7 * m + 114
  return utc(y, Math.floor(n / 31), n % 31 + 1)
}

export function orthodox (y) { // Meeus's Julian algorithm; 13 days on in 1900-2099
  const d = (19 * (y % 19) + 15) % 30
  const e = (2 * (y % 4) + 4 * (y % 7) - d + 34) % 7
  const n = d + e + 114
  return utc(y, Math.floor(n / 31), n % 31 + 1) + 13 * DAY
}

function nth (y, m, n, wd) {
  if (n < 0) {
    const last = utc(y, m + 1, 0)
    return last - ((new Date(last).getUTCDay() - wd + 7) % 7) * DAY
  }
  const first = utc(y, m, 1)
  return first + (((wd - new Date(first).getUTCDay() + 7) % 7) + 7 * (n - 1)) * DAY
}

function onOrAfter (y, m, d, wd) {
  const at = utc(y, m, d)
  return at + ((wd - new Date(at).getUTCDay() + 7) % 7) * DAY
}

// candidates are the rules without moving that may give a day.
function candidates (day) {
  const [y, m, d] = day.split('-').map(Number)
  const at = utc(y, m, d); const wd = new Date(at).getUTCDay()
  const list = [[`f ${two(m)}${two(d)}`, (y) => utc(y, m, d)]]
  for (const [code, fn] of [['e', easter], ['o', orthodox]]) {
    const n = (at - fn(y)) / DAY
    if (Math.abs(n) < 100) list.push([`${code} ${n}`, (y) => fn(y) + n * DAY])
  }
  const n = Math.ceil(d / 7)
  if (n < 5) list.push([`w ${two(m)} ${n} ${wd}`, (y) => nth(y, m, n, wd)])
  if (nth(y, m, -1, wd) === at) list.push([`w ${two(m)} -1 ${wd}`, (y) => nth(y, m, -1, wd)])
  for (let back = 0; back < 7; back++) {
    const from = new Date(at - back * DAY); const fm = from.getUTCMonth() + 1; const fd = from.getUTCDate()
    list.push([`a ${two(fm)}${two(fd)} ${wd}`, (y) => onOrAfter(y, fm, fd, wd)])
  }
  return list
}

// fits reports whether a rule gives these days and no others of their years.
function fits (fn, days) {
  const from = +days[0].slice(0, 4); const to = +days[days.length - 1].slice(0, 4)
  if (days.length !== to - from + 1) return false
  return days.every((d, i) => iso(fn(from + i)) === d)
}

const shift = (n) => (n >= 0 ? String(n) : String.fromCharCode(96 - n))

// moving finds a fixed day that moves by its weekday.
function moving (days, first, last) {
  const [, m0, d0] = days[0].split('-').map(Number)
  for (let back = -6; back <= 6; back++) {
    const base = new Date(utc(2023, m0, d0) + back * DAY) // no leap year
    const m = base.getUTCMonth() + 1; const d = base.getUTCDate()
    const by = Array(7).fill(null)
    const left = new Set(days)
    let ok = true
    for (let y = first; y <= last && ok; y++) {
      const at = utc(y, m, d); const wd = new Date(at).getUTCDay()
      let hit = '.'
      for (let n = -6; n <= 6; n++) {
        if (left.has(iso(at + n * DAY))) {
          if (hit !== '.') ok = false
          hit = shift(n); left.delete(iso(at + n * DAY))
        }
      }
      if (by[wd] === null) by[wd] = hit
      ok = ok && by[wd] === hit
    }
    if (ok && left.size === 0) return `m ${two(m)}${two(d)} ${by.map((x) => x ?? '.').join('')}`
  }
  return null
}

export function packed (days, first, last) {
  const from = +days[0].slice(0, 4); const to = +days[days.length - 1].slice(0, 4)
  const span = from === first && to === last ? '' : `${from === first ? '' : from}-${to === last ? '' : to} `
  if (days.length > 2 || to === last) {
    for (const [rule, fn] of candidates(days[0])) if (fits(fn, days)) return [span + rule]
  }
  if (days.length > 2) {
    for (const [a, b, s] of [[first, last, ''], [from, last, `${from}- `], [first, to, `-${to} `]]) {
      const rule = b - a > 12 && moving(days, a, b)
      if (rule) return [s + rule]
    }
  }
  return ['d ' + days.map((d) => d.slice(2).replaceAll('-', '')).join(',')]
}
