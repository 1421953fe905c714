//! Many predictions: a job a line in, a report a line out, in the same order, on all cores.
//!
//! Lines are handed out to the workers as they come; for each a place in the order is kept in which its answer is waited
//! for. As many are under way as there are places, so that neither a long input nor a slow reader fills the memory. Empty
//! lines are passed over; a bad line is answered with its number and its faults, and the stream goes on.

use crate::command::Table;
use crate::predict::{Work, json, status};
use crate::read;
use crate::status::{Outcome, Status, Stop};
use serde::Serialize;
use std::io::{self, BufRead, Read, Write};
use std::sync::mpsc::{Receiver, SyncSender, TryRecvError, sync_channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

/// Places in the order, a worker.
const PLACES: usize = 8;
/// Bytes of a line that are kept: more than a job may have, so that a longer one is refused as one.
const LONGEST: u64 = 2 << 20;
/// Stack of a worker.
const STACK: usize = 64 << 20;

/// A line of the input with the place of its answer.
struct Task {
    number: usize,
    text: Vec<u8>,
    answer: SyncSender<Answer>,
}

/// What is written for a line.
struct Answer {
    text: Vec<u8>,
    status: Status,
}

/// What stands in the place of a report where a line is bad.
#[derive(Serialize)]
struct Bad<'f, F: Serialize> {
    line: usize,
    faults: &'f F,
}

/// Predicts each line of standard input.
pub fn predict(out: &mut impl Write, _json: bool, csv: Option<Table>) -> Outcome {
    if csv.is_some() {
        eprintln!("A stream of jobs is answered with JSON lines; --csv is for one job file.");
        return Ok(Status::Refused);
    }
    let workers = thread::available_parallelism().map_or(1, usize::from);
    let (places, order) = sync_channel::<Receiver<Answer>>(workers * PLACES);
    let (tasks, taken) = sync_channel::<Task>(workers);
    let taken = Arc::new(Mutex::new(taken));
    for _ in 0..workers {
        let taken = Arc::clone(&taken);
        thread::Builder::new().stack_size(STACK).spawn(move || work(&taken))?;
    }
    let reader = thread::Builder::new().spawn(move || read_lines(&places, &tasks))?;
    let worst = write_answers(out, &order)?;
    match reader.join() {
        Ok(Ok(())) => Ok(worst),
        Ok(Err(why)) => {
            eprintln!("cannot read standard input: {why}");
            Ok(Status::Refused)
        }
        Err(_) => Ok(Status::Refused),
    }
}

/// Hands out the lines of standard input until there are no more, or nobody takes them.
fn read_lines(places: &SyncSender<Receiver<Answer>>, tasks: &SyncSender<Task>) -> io::Result<()> {
    let mut input = io::stdin().lock();
    let mut number = 0;
    loop {
        let Some(text) = next_line(&mut input)? else { return Ok(()) };
        number += 1;
        if text.iter().all(u8::is_ascii_whitespace) {
            continue;
        }
        let (answer, place) = sync_channel(1);
        if places.send(place).is_err() || tasks.send(Task { number, text, answer }).is_err() {
            return Ok(());
        }
    }
}

/// The next line, of which what no job needs is passed over; `None` at the end.
fn next_line(input: &mut impl BufRead) -> io::Result<Option<Vec<u8>>> {
    let mut text = Vec::new();
    if input.by_ref().take(LONGEST).read_until(b'\n', &mut text)? == 0 {
        return Ok(None);
    }
    while text.last() != Some(&b'\n') && text.len() as u64 >= LONGEST {
        let ready = input.fill_buf()?;
        let end = ready.iter().position(|byte| *byte == b'\n').map(|place| place + 1);
        let (passed, done) = (end.unwrap_or(ready.len()), end.is_some() || ready.is_empty());
        input.consume(passed);
        if done {
            break;
        }
    }
    Ok(Some(text))
}

/// Answers lines until there are no more.
fn work(tasks: &Mutex<Receiver<Task>>) {
    let mut work = Work::new();
    loop {
        // A worker that fell leaves the queue as it was.
        let next = tasks.lock().unwrap_or_else(PoisonError::into_inner).recv();
        let Ok(task) = next else { return };
        let answer = answer(&mut work, &task);
        // Where nobody waits for the answer the stream has been closed.
        let _ = task.answer.send(answer);
    }
}

/// The report of a line, or its faults.
fn answer(work: &mut Work, task: &Task) -> Answer {
    let mut text = Vec::new();
    let status = match read::line_of_bytes(&task.text) {
        Ok(line) => {
            let report = work.predict(&line);
            json(&mut text, report).map(|()| status(report))
        }
        Err(faults) => {
            let bad = Bad { line: task.number, faults: &faults };
            serde_json::to_writer(&mut text, &bad).map(|()| Status::Refused).map_err(|why| Stop::Write(why.into()))
        }
    };
    text.push(b'\n');
    // Writing into memory does not fail; if it did, the line would be bad.
    Answer { text, status: status.unwrap_or(Status::Refused) }
}

/// Writes the answers in order and returns the worst status.
fn write_answers(out: &mut impl Write, order: &Receiver<Receiver<Answer>>) -> Outcome {
    let mut worst = Status::Done;
    loop {
        let place = match order.try_recv() {
            Ok(place) => place,
            Err(TryRecvError::Disconnected) => break,
            Err(TryRecvError::Empty) => {
                // Nothing to do: whoever reads gets what there is.
                out.flush()?;
                match order.recv() {
                    Ok(place) => place,
                    Err(_) => break,
                }
            }
        };
        let Ok(answer) = place.recv() else {
            worst = Status::Refused;
            continue;
        };
        out.write_all(&answer.text)?;
        worst = worst.max(answer.status);
    }
    out.flush()?;
    Ok(worst)
}
