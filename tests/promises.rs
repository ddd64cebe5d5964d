//! One module a promise that the program makes.

#![expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]

mod support;

// What a query finds is what others find, too.
mod agreement;
mod second_detector;

// Broken input costs nothing but itself.
mod bad_input;
// Options, output and exit statuses of the commands.
mod command_line;
// Whatever a program that speaks UCI does costs only what it was asked about.
#[cfg(unix)]
mod engines;
// A verdict says how it is known.
#[cfg(unix)]
mod evidence;
// What a diagram shows, and says.
mod diagrams;
mod drawing;
// A query that holds for every file.
mod files;
// Words of the query language.
mod language;
// What an offer costs.
mod exchange;
// What a move offers, and which kind of sacrifice it is.
mod kinds;
// What happens after an offer.
mod follow_ups;
// A damaged byte costs its own game at most.
mod damage;
// What was changed since it was written is noticed.
mod changed;
// A run that is broken off ends as if nothing had happened.
mod going_on;
// The deviations from the standard that are met in files.
mod deviations;
// Text made to be slow.
mod hostile;
// Offers that were not made.
mod overlooked;
// Which of them are judged and shown.
#[cfg(unix)]
mod missed;
// Whole games come out as they went in.
mod games;
// How the house is built.
mod house;
// A plan makes a course a teacher's own.
mod plans;
// What is changed in a plan changes nothing else, and nothing of it is lost.
mod desk;
// A run on the screen is for its owner alone, and shows what the tables hold.
mod open;
// What a lesson shows, and that it is safe and sound.
mod lessons;
// What an exercise asks has one answer, and that is right.
mod exercises;
// Sheets have what was asked for, for pupil or teacher, and no answer where none belongs.
mod sheets;
// Short exercises are proved by the rules, and a second implementation finds the same answers.
mod short_exercises;
// What the reference says.
mod reference;
// Relations that hold for any input.
mod relations;
// Intervals and expected scores.
mod numbers;
// Every source is found once, named for what it is, and read if it can be.
mod sources;
// What is said reaches people, does nothing to their terminal, and stops no run.
mod talk;
// Sentences, files and their problems.
mod queries;
// What comes from outside runs nothing and leads nowhere.
mod safety;
// Parts of a collection add up.
mod parts;
// Runs that are read together.
mod several_runs;
// What the sample data promises.
mod sample_data;
// The output folder.
mod tables;
// What is proved of an offer.
mod verdicts;
// What is proved of the hits of a run.
mod verify;
// Some of many hits are judged, and more later.
#[cfg(unix)]
mod judging;
// What hits came to.
mod tally;
// What pages say stands in catalogues, in every language.
mod catalogues;
// What is written by hand is understood, or told for what it is.
mod words;
