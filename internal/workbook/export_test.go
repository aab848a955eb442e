package workbook

// Letters is how columns are named.
var Letters = letters
