// The last line of the demo: how to go on without a terminal.
console.log("Without a terminal: open dist/sumpwright.html in a browser, or run node dist/cli.js open");
