//! A batch that a phone sends, and what it is answered. Reads the batch as a whole first, then each op by itself, so that one that can't
//! be read holds up none of the others and is kept word for word.

use chrono::NaiveDateTime;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uuid::Uuid;

use super::{VERSION, instant};

/// The most ops of a batch.
pub const MOST_OPS: usize = 100;

/// The most bytes of a batch.
pub const MOST_BYTES: usize = 1 << 20;

/// A batch as it was read.
#[derive(Debug, Clone)]
pub struct Batch {
    /// In which unit; none for what belongs to none.
    pub unit: Option<i64>,
    /// When the checklist was fetched that it works from, UTC by the server's clock.
    pub fetched_at: Option<NaiveDateTime>,
    /// What was done, in its order.
    pub ops: Vec<Sent>,
}

/// One op as it was sent.
#[derive(Debug, Clone)]
pub struct Sent {
    /// Made by the phone.
    pub id: Uuid,
    /// When, by the phone's clock; none when that can't be read.
    pub at: Option<NaiveDateTime>,
    /// Word for word.
    pub json: Value,
    /// What it says, or why it can't be read.
    pub op: Result<Op, String>,
}

/// What was done.
#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Op {
    /// A check was answered.
    Answer(Answer),
    /// A photo of an answer is to come.
    Photo(Photo),
    /// A deficiency was repaired.
    Repaired(Repaired),
    /// Something was said about a deficiency that no check asks again.
    Word(Word),
    /// The turnover goes to its next stage.
    Advance(Advance),
    /// The turnover is closed.
    Close(Close),
    /// Something else is wrong.
    Report(Report),
    /// The visit is over.
    VisitDone(VisitDone),
    /// Nobody got in.
    NoAccess(NoAccess),
    /// An emergency was reported.
    Urgent(Urgent),
}

/// An answer to a check.
#[derive(Debug, Clone, Deserialize)]
pub struct Answer {
    /// In which turnover.
    #[serde(default)]
    pub turnover: Option<i64>,
    /// On which visit.
    #[serde(default)]
    pub visit: Option<i64>,
    /// For which stage of the turnover; empty for none.
    #[serde(default)]
    pub stage: String,
    /// Of which fixture.
    pub fixture: i64,
    /// Code of the part; empty for the fixture itself.
    #[serde(default)]
    pub part: String,
    /// Code of the check.
    pub check: String,
    /// The procedure as the phone asked it.
    #[serde(default)]
    pub version: u32,
    /// Code of the outcome; empty when the reading decides.
    #[serde(default)]
    pub outcome: String,
    /// As typed.
    #[serde(default)]
    pub reading: String,
    /// Code of the reason why it was not checked, or the reason itself; empty otherwise.
    #[serde(default)]
    pub reason: String,
    /// The same in words; empty when nothing was written.
    #[serde(default)]
    pub why: String,
    /// Free text.
    #[serde(default)]
    pub note: String,
    /// What was measured beyond a reading.
    #[serde(default)]
    pub detail: Option<Value>,
}

/// A photo that is announced.
#[derive(Debug, Clone, Deserialize)]
pub struct Photo {
    /// The id of the answer that it shows.
    pub of: Uuid,
    /// Of its bytes, hexadecimal.
    pub sha256: String,
    /// How many these are.
    pub bytes: i64,
}

/// A repair.
#[derive(Debug, Clone, Deserialize)]
pub struct Repaired {
    /// Of which deficiency; none when the phone does not know its number yet.
    #[serde(default)]
    pub deficiency: Option<i64>,
    /// The id of the failing answer, when the number is not known.
    #[serde(default)]
    pub of: Option<Uuid>,
    /// Parts used.
    #[serde(default)]
    pub parts: String,
    /// Minutes of work.
    #[serde(default)]
    pub minutes: Option<serde_json::Number>,
    /// Free text.
    #[serde(default)]
    pub note: String,
}

/// A word about a deficiency.
#[derive(Debug, Clone, Deserialize)]
pub struct Word {
    /// Which.
    pub deficiency: i64,
    /// Code of the outcome.
    pub outcome: String,
    /// Why it could not be looked at.
    #[serde(default)]
    pub reason: String,
    /// Free text.
    #[serde(default)]
    pub note: String,
}

/// A step of a turnover.
#[derive(Debug, Clone, Deserialize)]
pub struct Advance {
    /// Of which.
    pub turnover: i64,
    /// Code of the stage.
    pub to: String,
}

/// The closing of a turnover.
#[derive(Debug, Clone, Deserialize)]
pub struct Close {
    /// Of which.
    pub turnover: i64,
    /// Who signs.
    #[serde(default)]
    pub name: String,
    /// As drawn; empty when only the name was typed.
    #[serde(default)]
    pub signature: String,
}

/// Something else that is wrong.
#[derive(Debug, Clone, Deserialize)]
pub struct Report {
    /// Key of the place; none for the whole unit.
    #[serde(default)]
    pub place: Option<i64>,
    /// What is wrong, in one line.
    pub title: String,
    /// Code of the severity; empty when nobody chose one.
    #[serde(default)]
    pub severity: String,
    /// Free text.
    #[serde(default)]
    pub note: String,
}

/// The end of a visit.
#[derive(Debug, Clone, Deserialize)]
pub struct VisitDone {
    /// Of which.
    pub visit: i64,
}

/// A visit on which nobody got in.
#[derive(Debug, Clone, Deserialize)]
pub struct NoAccess {
    /// Which.
    pub visit: i64,
    /// Code of an offered reason; may be empty.
    #[serde(default)]
    pub reason: String,
    /// Free text; may be empty.
    #[serde(default)]
    pub text: String,
}

/// An emergency.
#[derive(Debug, Clone, Deserialize)]
pub struct Urgent {
    /// Code of its kind.
    pub emergency: String,
    /// Where; none when nobody said.
    #[serde(default)]
    pub building: Option<i64>,
    /// Free text.
    #[serde(default)]
    pub note: String,
}

/// What became of an op.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// It is in.
    Kept,
    /// It was in.
    Already,
    /// It is in, and the manager sees that it came late.
    Late,
    /// It could not be taken as it is.
    Attention,
}

/// The answer to an op.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Told {
    /// Which op.
    pub id: Uuid,
    /// What became of it.
    pub state: State,
    /// What to know or to do; may be empty.
    pub sentence: String,
    /// The deficiencies that it opened.
    pub opened: Vec<i64>,
    /// Those that it closed.
    pub closed: Vec<i64>,
}

impl Told {
    /// An answer that says no more than the state.
    #[must_use]
    pub fn new(id: Uuid, state: State) -> Self {
        Self {
            id,
            state,
            sentence: String::new(),
            opened: Vec::new(),
            closed: Vec::new(),
        }
    }

    /// The same with a sentence.
    #[must_use]
    pub fn saying(mut self, sentence: impl Into<String>) -> Self {
        self.sentence = sentence.into();
        self
    }
}

#[derive(Serialize)]
struct Answered<'a> {
    v: u32,
    now: String,
    ops: &'a [Told],
}

/// The answer to a batch.
///
/// # Errors
/// A phrase when it can't be written, which its types rule out.
pub fn answer(now: NaiveDateTime, ops: &[Told]) -> Result<String, String> {
    let answered = Answered {
        v: VERSION,
        now: instant::text(now),
        ops,
    };
    serde_json::to_string(&answered).map_err(|error| error.to_string())
}

#[derive(Deserialize)]
struct Envelope {
    v: u32,
    #[serde(default)]
    unit: Option<i64>,
    #[serde(default)]
    fetched_at: Option<String>,
    ops: Vec<Value>,
}

/// Reads a batch.
///
/// # Errors
/// A sentence when it is no batch of a version that is known, or an op has no id under which it could be kept.
pub fn read(body: &[u8]) -> Result<Batch, String> {
    let envelope: Envelope =
        serde_json::from_slice(body).map_err(|error| format!("The batch can't be read: {error}."))?;
    if envelope.v != VERSION {
        return Err(format!(
            "The batch is of version {}, and this server reads version {VERSION}. Load the page again.",
            envelope.v
        ));
    }
    if envelope.ops.len() > MOST_OPS {
        let many = envelope.ops.len();
        return Err(format!(
            "The batch has {many} ops; send at most {MOST_OPS} at once."
        ));
    }
    let fetched_at = envelope.fetched_at.as_deref().and_then(instant::read);
    let ops: Result<Vec<Sent>, String> = envelope.ops.into_iter().map(sent).collect();
    Ok(Batch {
        unit: envelope.unit,
        fetched_at,
        ops: ops?,
    })
}

fn sent(json: Value) -> Result<Sent, String> {
    let word = |name: &str| json.get(name).and_then(Value::as_str);
    let id = word("id").and_then(|id| id.parse().ok());
    let id = id.ok_or("An op of the batch has no id. Give each a UUID of its own.")?;
    Ok(Sent {
        id,
        at: word("at").and_then(instant::read),
        op: Op::deserialize(&json).map_err(|error| error.to_string()),
        json,
    })
}
