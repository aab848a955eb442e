// What date-holidays has otherwise than the law or than shops keep it, each with its
// source. It gives how sure a day is ('?' by some only, null none), its name and the day.
export function mends (country, region, day, flag, name) {
  // A holiday on a Saturday is kept on the Friday before by offices of the state only: Federal
  // Reserve Banks stay open (Board of Governors of the Federal Reserve System, K.8, Holidays
  // Observed 2026-2030, footnote), and so do shops (common practice, no source).
  if (country === 'US' && name.endsWith('kept on another day') && new Date(day).getUTCDay() === 5) return ['?', name, day]
  // The first Thursday after 18 April is 25 April where the 18th is one (Iceland, Act 88/1971).
  if (country === 'IS' && day.endsWith('-04-18') && name.includes('Summer') && new Date(day).getUTCDay() === 4) return [flag, name, day.slice(0, 5) + '04-25']
  return [flag, name, day]
}

// standIn is the region that stands for a country where none is laid down.
export const standIn = {
  GB: 'ENG' // England and Wales, where most people live; the others keep days of their own
}
