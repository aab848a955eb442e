// What date-holidays has otherwise than the law or than shops keep it, each with its
// source. It gives how sure a day is ('?' by some only, null none), its name and the day.
export function mends (country, region, day, flag, name) {
  // A holiday on a Saturday is kept on the Friday before by offices of the state only: Federal
  // Reserve Banks stay open (Board of Governors of the Federal Reserve System, K.8, Holidays
  // Observed 2026-2030, footnote), and so do shops (common practice, no source).
  if (country === 'US' && name.endsWith('kept on another day') && new Date(day).getUTCDay() === 5) return ['?', name, day]
  // The first Thursday after 18 April is 25 April where the 18th is one (Iceland, Act 88/1971).
  if (country === 'IS' && day.endsWith('-04-18') && name.includes('Summer') && new Date(day).getUTCDay() === 4) return [flag, name, day.slice(0, 5) + '04-25']
  // New South Wales gave a day instead of Anzac Day for 2026 and 2027 only (from memory); later
  // ones are asked about.
  if (country === 'AU' && region === 'NSW' && name === 'Anzac Day, kept on another day' && day > '2028') return ['?', name, day]
  // Whether a Monday is free when Christmas is on a Sunday is for each region of Spain to say, year by
  // year (Workers' Statute, article 37.2).
  if (country === 'ES' && region === '.' && name.endsWith('kept on another day')) return ['?', name, day]
  return [flag, name, day]
}

const years = (from, to) => Array.from({ length: to - from + 1 }, (_, i) => from + i)

// extra are days that date-holidays lacks: country, how sure, name, days.
export const extra = [
  // These two were made working days for 2026 (from memory); whether they are rest days again from
  // 2027 on is for a shop to say.
  ['SK', '?', 'Day of victory over fascism', years(2027, 2045).map((y) => `${y}-05-08`)],
  ['SK', '?', 'Day of Our Lady of the Seven Sorrows', years(2027, 2045).map((y) => `${y}-09-15`)],
  // A day between two national holidays is one (Act on National Holidays, 178 of 1948, article 3,
  // paragraph 3).
  ['JP', '', 'National holiday between two others', ['2032-09-21']],
  // Canada Day on a Sunday is kept on the day after (Holidays Act, R.S.C. 1985, c. H-5, section 2);
  // whether shops keep it is provincial.
  ['CA', '?', 'Canada Day, kept on another day', ['2029-07-02', '2035-07-02', '2040-07-02']]
]

// standIn is the region that stands for a country where none is laid down.
export const standIn = {
  GB: 'ENG' // England and Wales, where most people live; the others keep days of their own
}

// before are days of the years before the table's first that a rule of it does not give: they moved
// in one of its first years. Forecasts of older days want them.
export const before = {
  // The first Monday of May by proclamation since 1978, and the last by the Banking and Financial
  // Dealings Act 1971, schedule 1; 8 May 1995, 4 June 2002 and 4 June 2012 instead by proclamation.
  GB: [
    '*\t1978-1994 w 05 1 1\t\tEarly May bank holiday',
    '*\t1995-1995 f 0508\t\tEarly May bank holiday (VE day)',
    '*\t1996-2019 w 05 1 1\t\tEarly May bank holiday',
    '*\t1971-2001 w 05 -1 1\t\tSpring bank holiday',
    '*\t2002-2002 f 0604\t\tSpring bank holiday',
    '*\t2003-2011 w 05 -1 1\t\tSpring bank holiday',
    '*\t2012-2012 f 0604\t\tSpring bank holiday',
    '*\t2013-2019 w 05 -1 1\t\tSpring bank holiday'
  ]
}
