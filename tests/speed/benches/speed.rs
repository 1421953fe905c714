//! Times of the works by the clock.

use divan::Bencher;
use loftwire_speed::WORKS;

fn main() {
    divan::main();
}

#[divan::bench(args = WORKS.iter().map(|work| work.name))]
fn work(bencher: Bencher<'_, '_>, name: &str) {
    let Some(work) = WORKS.iter().find(|work| work.name == name) else { return };
    let mut bencher = Some(bencher);
    (work.prepared)(&mut |once| {
        if let Some(bencher) = bencher.take() {
            bencher.bench_local(once);
        }
    });
}
