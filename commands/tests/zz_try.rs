//! scratch
use commands::rules::plain::{Home, HomeBed, read};
#[test]
fn try_it() {
    let mut home = Home::default();
    for (unit, beds) in [("Elm", "101=LW-08 102=LW-11 103=LW-07 104 105 106=LW-09 108=LW-10"), ("Ash", "1 2 3=LW-30 11 12=LW-12 14=LW-14"), ("Oak", "213 214A=LW-23 214B=LW-24 216=LW-26")] {
        home.units.push(unit);
        for b in beds.split(' ') {
            let (bed, under) = match b.split_once('=') { Some((b, t)) => (b, Some(t)), None => (b, None) };
            home.tags.extend(under);
            home.beds.push(HomeBed { bed, unit, under });
        }
    }
    home.tags.extend(["LW-20", "LW-21", "LW-31"]);
    let text = std::fs::read_to_string(std::env::var("TRY").unwrap()).unwrap();
    for line in text.lines() {
        println!("{line:50} {}", format!("{:?}", read(line, &home)).replace("Understood { what: ", "U ").replace("HandCheck { about: About", "HC"));
    }
}
