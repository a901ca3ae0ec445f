// The entry that the editor calls inside its extension host: runs the tests beside it and writes down what they gave.
const fs = require('node:fs');
const path = require('node:path');
const Mocha = require('mocha');

exports.run = () =>
  new Promise((resolve, reject) => {
    const mocha = new Mocha({ ui: 'bdd', timeout: 60_000, reporter: 'spec', forbidOnly: true });
    if (process.env.WATTWRIGHT_HOST_GREP) mocha.grep(process.env.WATTWRIGHT_HOST_GREP);
    for (const name of fs.readdirSync(__dirname).sort()) {
      if (name.endsWith('.test.cjs')) mocha.addFile(path.join(__dirname, name));
    }
    const results = { passed: [], failed: [], pending: [] };
    const runner = mocha.run(failures => {
      const file = process.env.WATTWRIGHT_HOST_RESULTS;
      if (file) fs.writeFileSync(file, JSON.stringify(results));
      if (failures) reject(new Error(`${failures} failed`));
      else resolve();
    });
    runner.on('pass', test => results.passed.push(test.fullTitle()));
    runner.on('pending', test => results.pending.push(test.fullTitle()));
    runner.on('fail', (test, error) => results.failed.push({ title: test.fullTitle(), reason: error.message }));
  });
