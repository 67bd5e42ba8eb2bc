//! Where there is ink, pixel by pixel, and which pixels hang together.
//!
//! Ink is what is darker than paper by more than its noise. Pixels that touch make a piece; pieces are found
//! from the runs of ink in each row, so that their number of pixels, their extent and their shape are known
//! without a second look at the picture.

/// Darker than bare paper.
pub(super) const INK: u8 = 1;
/// Dark enough to be the mass of a wall.
pub(super) const DARK: u8 = 2;
/// Part of something too thick to be a line.
pub(super) const THICK: u8 = 4;

/// Marks for every pixel.
pub(super) struct Marks {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) cells: Vec<u8>,
}

/// Pixels from `start` up to before `end` in one row.
#[derive(Clone, Copy)]
pub(super) struct Run {
    pub(super) y: u32,
    pub(super) start: u32,
    pub(super) end: u32,
}

/// What hangs together.
pub(super) struct Pieces {
    pub(super) runs: Vec<Run>,
    /// Index of its piece for each run.
    pub(super) piece_of: Vec<u32>,
    pub(super) pieces: Vec<Piece>,
    /// Index of the first run of each row, and one more.
    first_of_row: Vec<u32>,
}

/// Size and shape of a piece.
#[derive(Clone, Default)]
pub(super) struct Piece {
    pub(super) area: f64,
    pub(super) left: u32,
    pub(super) top: u32,
    pub(super) right: u32,
    pub(super) bottom: u32,
    /// Pixels on the edge of the picture: left, top, right, bottom.
    pub(super) on_edge: [u32; 4],
    /// Sums of x, y, x², xy and y² over its pixels.
    sums: [f64; 5],
}

impl Piece {
    /// The longer side of its box, pixels.
    pub(super) fn extent(&self) -> u32 {
        (self.right - self.left).max(self.bottom - self.top)
    }

    /// Its area over that of the rectangle with the same moments: 1 for a rectangle however turned, less for
    /// what has holes, arms or dents.
    pub(super) fn rectangularity(&self) -> f64 {
        let [x, y, xx, xy, yy] = self.sums.map(|sum| sum / self.area);
        // A pixel has a width of its own: 1/12 of spread along each axis.
        let (xx, yy, xy) = (xx - x * x + 1.0 / 12.0, yy - y * y + 1.0 / 12.0, xy - x * y);
        self.area / (12.0 * (xx * yy - xy * xy).max(1e-9).sqrt())
    }

    fn add(&mut self, run: Run, width: u32, height: u32) {
        let count = f64::from(run.end - run.start);
        if self.area == 0.0 {
            (self.left, self.top) = (run.start, run.y);
        }
        self.left = self.left.min(run.start);
        self.right = self.right.max(run.end);
        self.bottom = self.bottom.max(run.y + 1);
        self.area += count;
        let (first, last) = (f64::from(run.start), f64::from(run.end - 1));
        let along = (first + last) / 2.0 * count;
        // Sum of squares from first to last.
        let upto = |n: f64| n * (n + 1.0) * (2.0 * n + 1.0) / 6.0;
        let squares = upto(last) - if first > 0.0 { upto(first - 1.0) } else { 0.0 };
        let y = f64::from(run.y);
        for (sum, more) in self.sums.iter_mut().zip([along, y * count, squares, y * along, y * y * count]) {
            *sum += more;
        }
        self.on_edge[0] += u32::from(run.start == 0);
        self.on_edge[2] += u32::from(run.end == width);
        self.on_edge[1] += if run.y == 0 { run.end - run.start } else { 0 };
        self.on_edge[3] += if run.y + 1 == height { run.end - run.start } else { 0 };
    }
}

impl Pieces {
    /// All pixels with `mark` (or, with `without`, all that lack it). Ink hangs together across corners; what
    /// lies between does not.
    pub(super) fn of(marks: &Marks, mark: u8, without: bool) -> Self {
        let wanted = if without { 0 } else { mark };
        let mut runs: Vec<Run> = Vec::new();
        let mut first_of_row = Vec::with_capacity(marks.height + 1);
        for (y, row) in marks.cells.chunks_exact(marks.width).enumerate() {
            first_of_row.push(runs.len() as u32);
            let mut x = 0;
            while let Some(start) = row[x..].iter().position(|cell| cell & mark == wanted).map(|at| x + at) {
                let length = row[start..].iter().position(|cell| cell & mark != wanted);
                let end = length.map_or(row.len(), |length| start + length);
                runs.push(Run { y: y as u32, start: start as u32, end: end as u32 });
                x = end;
            }
        }
        first_of_row.push(runs.len() as u32);
        let reach = u32::from(!without);
        let roots = joined(&runs, &first_of_row, reach);
        let mut number = vec![u32::MAX; runs.len()];
        let mut piece_of = Vec::with_capacity(runs.len());
        let mut pieces: Vec<Piece> = Vec::new();
        for (run, root) in runs.iter().zip(&roots) {
            let own = &mut number[*root as usize];
            if *own == u32::MAX {
                *own = pieces.len() as u32;
                pieces.push(Piece::default());
            }
            piece_of.push(*own);
            pieces[*own as usize].add(*run, marks.width as u32, marks.height as u32);
        }
        Self { runs, piece_of, pieces, first_of_row }
    }

    /// The piece that holds a pixel.
    pub(super) fn at(&self, x: usize, y: usize) -> Option<usize> {
        let (from, to) = (*self.first_of_row.get(y)? as usize, *self.first_of_row.get(y + 1)? as usize);
        let row = &self.runs[from..to];
        let after = row.partition_point(|run| run.start as usize <= x);
        let index = after.checked_sub(1)?;
        ((x as u32) < row[index].end).then(|| self.piece_of[from + index] as usize)
    }

    /// Calls for every run whose piece is wanted.
    pub(super) fn each_run(&self, wanted: impl Fn(usize) -> bool, mut call: impl FnMut(Run)) {
        for (run, piece) in self.runs.iter().zip(&self.piece_of) {
            if wanted(*piece as usize) {
                call(*run);
            }
        }
    }
}

/// For each run the first run it hangs together with, through runs that touch in rows next to each other.
fn joined(runs: &[Run], first_of_row: &[u32], reach: u32) -> Vec<u32> {
    let mut parent: Vec<u32> = (0..runs.len() as u32).collect();
    for row in 1..first_of_row.len().saturating_sub(1) {
        let (mut above, mut own) = (first_of_row[row - 1] as usize, first_of_row[row] as usize);
        let (above_end, own_end) = (own, first_of_row[row + 1] as usize);
        while above < above_end && own < own_end {
            let (upper, lower) = (runs[above], runs[own]);
            if upper.start < lower.end + reach && lower.start < upper.end + reach {
                let (a, b) = (root(&mut parent, above as u32), root(&mut parent, own as u32));
                parent[a.max(b) as usize] = a.min(b);
            }
            if upper.end < lower.end { above += 1 } else { own += 1 }
        }
    }
    for index in 0..parent.len() {
        // Parents come first, so they are already roots.
        parent[index] = parent[parent[index] as usize];
    }
    parent
}

fn root(parent: &mut [u32], mut index: u32) -> u32 {
    while parent[index as usize] != index {
        parent[index as usize] = parent[parent[index as usize] as usize];
        index = parent[index as usize];
    }
    index
}

impl Marks {
    /// Takes marks from the pixels of a run, or gives them.
    pub(super) fn change(&mut self, run: Run, change: impl Fn(u8) -> u8) {
        let start = run.y as usize * self.width;
        for cell in &mut self.cells[start + run.start as usize..start + run.end as usize] {
            *cell = change(*cell);
        }
    }

    /// The marks of one pixel; none beyond the edges.
    pub(super) fn at(&self, x: isize, y: isize) -> u8 {
        if x >= 0 && y >= 0 && (x as usize) < self.width && (y as usize) < self.height {
            self.cells[y as usize * self.width + x as usize]
        } else {
            0
        }
    }
}
