//! How much memory something takes.

use peak_alloc::PeakAlloc;

#[global_allocator]
static HEAP: PeakAlloc = PeakAlloc;

/// The most memory that reading some bytes may take at any time: so many times their number, and so many bytes more.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    /// How many times the bytes.
    pub times: usize,
    /// How many bytes more, however few there are to read.
    pub more: usize,
}

impl Room {
    /// Does something with `bytes` bytes.
    ///
    /// # Panics
    /// When it takes more memory than there is room for.
    pub fn within<T>(self, bytes: usize, work: impl FnOnce() -> T) -> T {
        let before = HEAP.current_usage();
        HEAP.reset_peak_usage();
        let done = work();
        let taken = HEAP.peak_usage().saturating_sub(before);
        let room = self.times * bytes + self.more;
        assert!(taken <= room, "{bytes} bytes took {taken} bytes of memory, and there is room for {room}");
        done
    }
}
