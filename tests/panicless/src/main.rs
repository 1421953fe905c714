#![no_std]
#![no_main]

use core::hint::black_box;
use core::panic::PanicInfo;
use loftwire_core::line::Line;
use loftwire_core::predict::Predictor;
use core::mem::MaybeUninit;

static mut P: Predictor = Predictor::new();

#[unsafe(no_mangle)]
pub extern "C" fn main(_: i32, line: *const Line) -> i32 {
    let line = unsafe { &*line };
    let p = unsafe { &mut *core::ptr::addr_of_mut!(P) };
    black_box(p.predict(black_box(line)));
    #[cfg(feature = "planted")]
    {
        let a = black_box([1u8, 2]);
        black_box(a[black_box(1usize)]);
    }
    0
}

#[link(name = "c")]
unsafe extern "C" {}

#[cfg(not(feature = "callers"))]
unsafe extern "C" {
    fn a_path_to_a_panic_is_left() -> !;
}

#[cfg(feature = "callers")]
#[unsafe(no_mangle)]
#[inline(never)]
unsafe extern "C" fn a_path_to_a_panic_is_left() -> ! {
    loop { black_box(()); }
}

#[panic_handler]
#[inline(never)]
fn panic(_: &PanicInfo<'_>) -> ! {
    unsafe { a_path_to_a_panic_is_left() }
}
