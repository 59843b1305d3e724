//! Reads the sets as they are published.

use nalgebra::DVector;

/// One data set.
pub(crate) struct Set {
    pub(crate) name: String,
    pub(crate) starts: [DVector<f64>; 2],
    /// Parameter and its standard deviation.
    pub(crate) certified: Vec<(f64, f64)>,
    /// Response and predictors.
    pub(crate) rows: Vec<(f64, Vec<f64>)>,
    /// The same as published.
    pub(crate) text: Vec<&'static str>,
}

const FILES: [(&str, &str); 27] = [
    ("Bennett5", include_str!("sets/Bennett5.dat")),
    ("BoxBOD", include_str!("sets/BoxBOD.dat")),
    ("Chwirut1", include_str!("sets/Chwirut1.dat")),
    ("Chwirut2", include_str!("sets/Chwirut2.dat")),
    ("DanWood", include_str!("sets/DanWood.dat")),
    ("ENSO", include_str!("sets/ENSO.dat")),
    ("Eckerle4", include_str!("sets/Eckerle4.dat")),
    ("Gauss1", include_str!("sets/Gauss1.dat")),
    ("Gauss2", include_str!("sets/Gauss2.dat")),
    ("Gauss3", include_str!("sets/Gauss3.dat")),
    ("Hahn1", include_str!("sets/Hahn1.dat")),
    ("Kirby2", include_str!("sets/Kirby2.dat")),
    ("Lanczos1", include_str!("sets/Lanczos1.dat")),
    ("Lanczos2", include_str!("sets/Lanczos2.dat")),
    ("Lanczos3", include_str!("sets/Lanczos3.dat")),
    ("MGH09", include_str!("sets/MGH09.dat")),
    ("MGH10", include_str!("sets/MGH10.dat")),
    ("MGH17", include_str!("sets/MGH17.dat")),
    ("Misra1a", include_str!("sets/Misra1a.dat")),
    ("Misra1b", include_str!("sets/Misra1b.dat")),
    ("Misra1c", include_str!("sets/Misra1c.dat")),
    ("Misra1d", include_str!("sets/Misra1d.dat")),
    ("Nelson", include_str!("sets/Nelson.dat")),
    ("Rat42", include_str!("sets/Rat42.dat")),
    ("Rat43", include_str!("sets/Rat43.dat")),
    ("Roszman1", include_str!("sets/Roszman1.dat")),
    ("Thurber", include_str!("sets/Thurber.dat")),
];

pub(crate) fn sets() -> impl Iterator<Item = Set> {
    FILES.into_iter().map(|(name, text)| read(name, text))
}

fn read(name: &str, text: &'static str) -> Set {
    let lines: Vec<&'static str> = text.lines().collect();
    let number = |word: &str| word.parse::<f64>().unwrap_or_else(|_| panic!("{name}: {word}"));
    let numbers = |line: &str| line.split_whitespace().map(number).collect::<Vec<_>>();
    // "b1 = start start certified deviation"
    let parameter = |line: &&str| {
        let (head, tail) = line.split_once('=')?;
        let digits = head.trim().strip_prefix('b')?;
        digits.parse::<u8>().is_ok().then(|| numbers(tail))
    };
    let parameters: Vec<_> = lines.iter().filter_map(parameter).collect();
    let start = |which: usize| DVector::from_iterator(parameters.len(), parameters.iter().map(|row| row[which]));
    let head = lines.iter().rposition(|line| line.starts_with("Data:")).expect("a data section");
    let row = |line: &&str| {
        let mut row = numbers(line);
        let y = row.remove(0);
        // The model of this one set is of the logarithm.
        (if name == "Nelson" { y.ln() } else { y }, row)
    };
    let text: Vec<_> = lines[head + 1..].iter().copied().filter(|line| !line.trim().is_empty()).collect();
    let rows: Vec<_> = text.iter().map(row).collect();
    let stated = lines.iter().find_map(|line| line.strip_prefix("Number of Observations:")).expect("stated");
    assert_eq!(rows.len(), stated.trim().parse::<usize>().expect("a number"), "{name}");
    let certified = parameters.iter().map(|row| (row[2], row[3])).collect();
    Set { name: name.to_owned(), starts: [start(0), start(1)], certified, rows, text }
}
