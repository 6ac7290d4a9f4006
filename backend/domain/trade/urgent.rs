//! What to do first when something is urgent, and whom to call. Decides the order of steps and of calls; knows no number but the one
//! that is dialled before an office sets its own.

use crate::domain::code::words;

words! {
    /// Something that can't wait for a form, the most dangerous first.
    Urgency "urgency" {
        Gas = "gas", "Smell of gas";
        Carbon = "carbon_monoxide", "Carbon monoxide alarm sounds";
        Sparks = "sparks", "Sparks, smoke or a burning smell";
        Sewage = "sewage", "Sewage comes up";
        Flooding = "flooding", "Water runs and can't be stopped";
    }
}

words! {
    /// Somebody to call.
    Contact "contact" {
        Emergency = "emergency", "Emergency number";
        Gas = "gas", "Gas company, emergencies";
        Electricity = "electricity", "Electricity company, emergencies";
        Water = "water", "Water company, emergencies";
        Plumber = "plumber", "Licensed plumber on call";
        Office = "office", "Office on call";
    }
}

impl Contact {
    /// What is dialled until the office sets a number; empty where nobody can know.
    ///
    /// # Source
    /// 911 is the emergency number of the United States and Canada (from memory); offices elsewhere set theirs.
    #[must_use]
    pub const fn usual_number(self) -> &'static str {
        match self {
            Self::Emergency => "911",
            _ => "",
        }
    }
}

impl Urgency {
    /// What to do first, in order. Leaving and staying away come before any call.
    ///
    /// # Source
    /// Common practice, no source; fire service, suppliers and local codes decide.
    #[must_use]
    pub const fn steps(self) -> &'static [&'static str] {
        match self {
            Self::Gas => &[
                "Leave now, touch no switch, call from outside.",
                "Take everybody with you. Leave doors open behind you.",
                "No bell, no plug, no flame, no call inside: call well away from the building.",
                "Stay out until the fire service or the gas company lets you in.",
            ],
            Self::Carbon => &[
                "Get everybody into fresh air, at once.",
                "Call from outside. Say when somebody feels dizzy, sick or has a headache.",
                "Stay out until the fire service lets you in. The heater stays off until a licensed gas fitter has seen it.",
            ],
            Self::Sparks => &[
                "Fire or smoke: leave, close the door behind you, call from outside.",
                "Touch nothing that sparks and nothing wet near it. Stay out of water.",
                "Switch the circuit off at the panel only with dry hands on a dry floor.",
                "Leave it off until a licensed electrician has seen it.",
            ],
            Self::Sewage => &[
                "Keep people and animals away from it.",
                "Run no water and flush nothing, also in the units above.",
                "Stay out where it reaches outlets, cords or appliances.",
                "Wash hands and shoes before the next room.",
            ],
            Self::Flooding => &[
                "Stay out of water that reaches outlets, cords or appliances.",
                "Shut the water: the stop at the fixture, else the shutoff of the unit, else the main of the building. Don't force a stop.",
                "Warn the unit below.",
            ],
        }
    }

    /// Whom to call, in order.
    #[must_use]
    pub const fn contacts(self) -> &'static [Contact] {
        match self {
            Self::Gas => &[Contact::Emergency, Contact::Gas, Contact::Office],
            Self::Carbon => &[Contact::Emergency, Contact::Gas, Contact::Office],
            Self::Sparks => &[Contact::Emergency, Contact::Electricity, Contact::Office],
            Self::Sewage => &[Contact::Plumber, Contact::Office],
            Self::Flooding => &[Contact::Plumber, Contact::Water, Contact::Office],
        }
    }
}

/// The longest number, characters.
const LONGEST: usize = 40;

/// Reads a telephone number as people write it: figures with spaces, hyphens, dots, brackets, a plus in front.
///
/// # Errors
/// A sentence when it can't be dialled.
///
/// ```
/// use anglestop::domain::trade::urgent::{dialled, read_number};
/// assert_eq!(read_number(" +1 (555) 010-0199 ").as_deref(), Ok("+1 (555) 010-0199"));
/// assert_eq!(dialled("+1 (555) 010-0199"), "+15550100199");
/// assert!(read_number("ask Ola").is_err());
/// ```
pub fn read_number(given: &str) -> Result<String, String> {
    let text = given.trim();
    let figures = text.chars().filter(char::is_ascii_digit).count();
    let plain = text
        .chars()
        .enumerate()
        .all(|(at, c)| c.is_ascii_digit() || " -./()".contains(c) || (c == '+' && at == 0));
    if !plain || !(3..=20).contains(&figures) || text.len() > LONGEST {
        return Err(format!(
            "“{text}” can't be dialled. Write 3 to 20 figures with spaces or hyphens, such as +1 555 010 0199."
        ));
    }
    Ok(text.to_owned())
}

/// The figures that a telephone dials.
#[must_use]
pub fn dialled(number: &str) -> String {
    number
        .chars()
        .filter(|c| c.is_ascii_digit() || *c == '+')
        .collect()
}
