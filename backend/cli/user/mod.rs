//! `anglestop user`: people, without a page. A password comes from a file or from standard input, never from the command line,
//! where other programs could read it; a one-time link is printed once and stored nowhere.

mod list;

use std::io::Read as _;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};

use super::Setting;
use crate::actions::people::hashing::Hasher;
use crate::actions::people::invite::{self, Invitation};
use crate::actions::people::{account, reset, standing};
use crate::clock::Now;
use crate::config;
use crate::domain::code::Coded;
use crate::domain::register::person::{Actor, Role, Standing, address};
use crate::domain::register::{PersonId, PersonText};
use crate::error::{Error, Result};
use crate::language::Language;
use crate::store::{Db, people};

/// Longest password file that is read, bytes; far more than any password has.
const LONGEST_FILE_BYTES: u64 = 64 * 1024;

/// Options of `user`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Add a person who may sign in at once
    Add {
        #[command(flatten)]
        who: Who,
        #[command(flatten)]
        password: Source,
    },
    /// List the people
    List {
        /// As an array of JSON objects
        #[arg(long)]
        json: bool,
    },
    /// Keep a person out; their sessions end at once, their records stay
    Disable {
        /// Mail address
        email: String,
    },
    /// Let a disabled person in again
    Enable {
        /// Mail address
        email: String,
    },
    /// Add a person who chooses their password through a link, which is printed once
    Invite {
        #[command(flatten)]
        who: Who,
        #[command(flatten)]
        base: Base,
        /// Write the link to them by mail instead of printing it
        #[arg(long)]
        mail: bool,
    },
    /// Print a link, once, with which a person chooses another password within an hour
    ResetLink {
        /// Mail address
        email: String,
        #[command(flatten)]
        base: Base,
    },
    /// Set the language that a person reads, in pages and mails
    Language {
        /// Mail address
        email: String,
        /// Its tag: en or es
        language: String,
    },
    /// Set a person's password; their sessions end
    Password {
        /// Mail address
        email: String,
        #[command(flatten)]
        source: Source,
    },
}

#[derive(Debug, Args)]
struct Who {
    /// Mail address; they sign in with it
    email: String,
    /// Name, as shown
    #[arg(long)]
    name: String,
    /// manager, technician or owner
    #[arg(long)]
    role: String,
    /// Code of a building that a technician works in; may be given more than once
    #[arg(long, value_name = "CODE")]
    building: Vec<String>,
    /// Code of a portfolio that an owner sees; may be given more than once
    #[arg(long, value_name = "CODE")]
    portfolio: Vec<String>,
    /// IANA time zone
    #[arg(long, default_value = "UTC")]
    time_zone: String,
    /// Local hour of the morning mail, 0 to 23
    #[arg(long, default_value = "6")]
    digest_hour: String,
    /// Language of their pages and mails: en or es
    #[arg(long, default_value = "en")]
    language: String,
}

#[derive(Debug, Args)]
struct Source {
    /// File whose first line is the password; - for standard input
    #[arg(long, value_name = "FILE", default_value = "-")]
    password_file: PathBuf,
}

#[derive(Debug, Args)]
struct Base {
    /// The address that people type; else from ANGLESTOP_PUBLIC_URL, else http://LISTEN
    #[arg(long, value_name = "URL")]
    public_url: Option<String>,
}

/// Does what was asked.
///
/// # Errors
/// When a value can't be used, or there is no such person.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open()?;
    let (actor, now) = (Actor::operator(), Now::from_system());
    match &options.what {
        What::List { json } => list::write(&db, *json),
        What::Add { who, password } => {
            let password = password.read()?;
            invite::with_password(&db, Hasher::shared(), &actor, now, &who.invitation()?, &password)?;
            said(format!("{} may sign in.", who.email))
        }
        What::Invite { who, base, mail } => invite(&db, &actor, now, who, base, mail.then_some(())),
        What::ResetLink { email, base } => {
            let person = find(&db, email)?;
            crate::cli::say!("{}", reset::by_hand(&db, &actor, now, &base.url()?, person)?);
            said("It works once, within an hour. It is stored nowhere: hand it over now.".to_owned())
        }
        What::Language { email, language } => {
            account::set_language_of(&db, &actor, now, find(&db, email)?, language)?;
            said(format!("{email} reads {}.", Language::of(language).name()))
        }
        What::Password { email, source } => {
            let person = find(&db, email)?;
            reset::set(&db, Hasher::shared(), &actor, now, person, &source.read()?)?;
            said(format!("{email} has another password; their sessions ended."))
        }
        What::Disable { email } => {
            standing::disable(&db, &actor, now, find(&db, email)?)?;
            said(format!("{email} is disabled; their sessions ended."))
        }
        What::Enable { email } => match standing::enable(&db, &actor, now, find(&db, email)?)? {
            Standing::Active => said(format!("{email} may sign in.")),
            Standing::Invited | Standing::Disabled => said(format!(
                "{email} has no password yet: set one with `user password {email}`."
            )),
        },
    }
}

fn invite(db: &Db, actor: &Actor, now: Now, who: &Who, base: &Base, by_mail: Option<()>) -> Result<()> {
    let (invitation, url) = (who.invitation()?, base.url()?);
    if by_mail.is_some() {
        invite::by_mail(db, actor, now, &url, &invitation)?;
        return said(format!("A mail to {} waits to be sent by `serve`.", who.email));
    }
    crate::cli::say!("{}", invite::by_hand(db, actor, now, &url, &invitation)?);
    said("It works once, within seven days. It is stored nowhere: hand it over now.".to_owned())
}

#[expect(clippy::unnecessary_wraps, reason = "each arm of `run` ends with an answer")]
fn said(words: String) -> Result<()> {
    eprintln!("{words}");
    Ok(())
}

fn find(db: &Db, email: &str) -> Result<PersonId> {
    db.read(|conn| people::by_email(conn, &address(email)))?
        .map(|person| person.id)
        .ok_or_else(|| {
            Error::refused(format!(
                "Nobody here has the address {email}. `user list` names everybody."
            ))
        })
}

impl Who {
    fn invitation(&self) -> Result<Invitation> {
        let role = Role::from_code(&self.role).map_err(|sentence| Error::field("role", sentence))?;
        let places = match role {
            Role::Manager => [self.building.as_slice(), self.portfolio.as_slice()].concat(),
            Role::Technician => self.building.clone(),
            Role::Owner => self.portfolio.clone(),
        };
        Ok(Invitation {
            person: PersonText {
                name: self.name.clone(),
                email: self.email.clone(),
                time_zone: self.time_zone.clone(),
                digest_hour: self.digest_hour.clone(),
                language: self.language.clone(),
            },
            role,
            places,
        })
    }
}

impl Base {
    fn url(&self) -> Result<String> {
        config::public_url(self.public_url.as_deref(), &config::value("listen", None)?.text)
    }
}

impl Source {
    /// The first line, without its end.
    fn read(&self) -> Result<String> {
        let mut text = String::new();
        let read = if self.password_file == Path::new("-") {
            std::io::stdin()
                .take(LONGEST_FILE_BYTES)
                .read_to_string(&mut text)
        } else {
            std::fs::File::open(&self.password_file)
                .and_then(|file| file.take(LONGEST_FILE_BYTES).read_to_string(&mut text))
        };
        read.map_err(|cause| {
            Error::refused(format!(
                "The password can't be read from {}: {cause}. Give a file whose first line it is, or - for standard input.",
                self.password_file.display()
            ))
        })?;
        Ok(text.lines().next().unwrap_or_default().to_owned())
    }
}
