// Writes ../table.txt: the holidays of every country that a shop may stand in, by
// region, from the npm package date-holidays. Run it here with
//
//	npm install && node table.mjs
//
// What the package knows is asked for day by day, and the days of a holiday are then
// said as a rule where one gives them all, else as a list. What is mended stands in
// mends.mjs, each with its source.
import fs from 'node:fs'
import Holidays from 'date-holidays'
import { before, extra, mends, standIn } from './mends.mjs'
import { packed } from './packed.mjs'

const FIRST = 2020
const LAST = 2045

// countries are those of internal/shop, in its order.
const countries = fs.readFileSync('../../shop/country.go', 'utf8')
  .split('const countryTable = `')[1].split('`')[0].trim().split('\n').map((l) => l.slice(0, 2))

const moon = /Muharram|Safar|Rabi|Jumada|Rajab|Shaban|Ramadan|Shawwal|Dhu/

// flag says how sure a day is: kept (''), kept on a day that the moon decides (~), or
// kept by some (?). Any other day is left out.
function flag (h) {
  const partial = !String(h.date).includes(' 00:00:00')
  if (h.type === 'public' && !partial) return moon.test(h.rule) ? '~' : ''
  return h.type === 'public' || h.type === 'bank' || h.type === 'optional' ? '?' : null
}

function daysOf (h) {
  const start = Date.parse(String(h.date).slice(0, 10) + 'T00:00:00Z')
  const n = Math.max(1, Math.round((h.end - h.start) / 86400000))
  return Array.from({ length: n }, (_, i) => new Date(start + i * 86400000).toISOString().slice(0, 10))
}

// collect asks for one country: "date|flag|name" -> regions; "." is the country itself.
function collect (country, regions) {
  const found = new Map()
  for (const region of ['.', ...regions]) {
    const by = region === '.' ? standIn[country] : region
    const asked = by ? new Holidays(country, by) : new Holidays(country)
    const once = new Map() // date -> [flag, name]: the surest of a day
    for (let year = FIRST - 1; year <= LAST; year++) {
      for (const h of asked.getHolidays(year, 'en') || []) {
        const f = flag(h)
        if (f === null) continue
        for (const day of daysOf(h)) {
          if (day < `${FIRST}-01-01` || day > `${LAST}-12-31`) continue
          const name = h.name.replace(/ \(substitute day\)/, ', kept on another day').replace(/\s+/g, ' ').replace(/’/g, "'").trim()
          const [f2, name2, day2] = mends(country, region, day, f, name)
          if (f2 === null) continue
          const before = once.get(day2)
          if (!before || (before[0] === '?' && f2 !== '?')) once.set(day2, [f2, name2])
        }
      }
    }
    for (const [day, [f, name]] of once) {
      const key = `${day}|${f}|${name}`
      found.set(key, (found.get(key) || new Set()).add(region))
    }
  }
  for (const [of, f, name, days] of extra) {
    for (const day of of === country ? days : []) found.set(`${day}|${f}|${name}`, new Set(['.', ...regions]))
  }
  return found
}

// where words a set of regions: * is all of them, !A,B all but those.
function where (set, regions) {
  const all = ['.', ...regions]
  const missing = all.filter((r) => !set.has(r))
  if (missing.length === 0) return '*'
  if (missing.length < all.length / 2) return '!' + missing.join(',')
  return all.filter((r) => set.has(r)).join(',')
}

function linesOf (country) {
  const known = new Holidays().getCountries('en')
  if (!known[country]) return []
  const states = new Holidays().getStates(country, 'en') || {}
  const regions = Object.keys(states).sort()
  const groups = new Map()
  for (const [key, set] of collect(country, regions)) {
    const [day, f, name] = key.split('|')
    const group = `${where(set, regions)}\t${f}\t${name}`
    groups.set(group, [...(groups.get(group) || []), day])
  }
  const lines = [`= ${country}`, ...regions.map((r) => `@ ${r} ${states[r]}`), ...(before[country] || [])]
  const rows = [...groups].map(([group, days]) => {
    const [at, f, name] = group.split('\t')
    return [days.sort()[0].slice(5), packed(days, FIRST, LAST).map((rule) => `${at}\t${rule}\t${f}\t${name}`)]
  })
  rows.sort((a, b) => (a[0] + a[1][0] < b[0] + b[1][0] ? -1 : 1))
  return [...lines, ...rows.flatMap((r) => r[1])]
}

const version = JSON.parse(fs.readFileSync('node_modules/date-holidays/package.json', 'utf8')).version
const head = [
  '# Holidays by country and region. Written by gen/table.mjs: change that, not this.',
  `# From the npm package date-holidays ${version} (code ISC), whose data is available under CC BY-SA 3.0, as the`,
  '# majority of it relies on articles of Wikipedia: https://creativecommons.org/licenses/by-sa/3.0/ . So is this file.',
  '# = country; @ region, its name; then: regions, rule, how sure, name. Rules are explained in rule.go.',
  `# years ${FIRST} ${LAST}`
]
fs.writeFileSync('../table.txt', [...head, ...countries.flatMap(linesOf)].join('\n') + '\n')
