//! How the program is connected: token, addresses, shards, channels. Checked here once.

use std::fmt;
use std::net::IpAddr;

use reqwest::Url;

use super::limits;
use super::wire::Id;

/// How the channel is opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// The bot's token.
    pub token: Token,
    /// Where requests go.
    pub base: Base,
    /// The gateway connections that this process holds.
    pub shards: Shards,
    /// Channels bound at start, as if by command.
    pub channels: Vec<Id>,
}

/// What cannot be an option; one line that names the remedy.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OptionError {
    /// No token.
    #[error(
        "there is no token; set CHALKBELL_DISCORD_TOKEN (in the environment or in .env) to the bot \
         token from your application's page, see docs/discord.md"
    )]
    NoToken,
    /// A token that no header can carry.
    #[error(
        "the token in CHALKBELL_DISCORD_TOKEN holds characters that no token has; copy it anew"
    )]
    BadToken,
    /// No address.
    #[error("CHALKBELL_DISCORD_API is no address; write for example http://127.0.0.1:8080")]
    BadBase,
    /// Unencrypted, and not on this machine.
    #[error(
        "{0} is not encrypted and not on this machine, so the token would be open to all; use \
         {1}"
    )]
    Open(String, &'static str),
    /// Requests stay on this machine, the gateway would not.
    #[error(
        "CHALKBELL_DISCORD_API points to this machine, but the gateway it names, {0}, does not; \
         the token is not sent there"
    )]
    Elsewhere(String),
    /// Shards that cannot be.
    #[error(
        "CHALKBELL_DISCORD_SHARDS is FIRST-LAST/TOTAL, counted from 0, like 0-3/8; `{0}` is not"
    )]
    BadShards(String),
    /// Channels that cannot be.
    #[error("CHALKBELL_DISCORD_CHANNELS is a list of channel ids with commas; `{0}` is not one")]
    BadChannel(String),
}

/// The bot's token. It is never shown.
#[derive(Clone)]
pub struct Token(String);

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Token")
    }
}

impl Token {
    /// Reads a token, with or without the word `Bot` before it.
    ///
    /// # Errors
    /// [`OptionError::NoToken`], [`OptionError::BadToken`].
    pub fn read(text: Option<&str>) -> Result<Self, OptionError> {
        let text = text.unwrap_or_default().trim();
        let bare = text
            .strip_prefix("Bot")
            .filter(|rest| !rest.starts_with(|c: char| !c.is_whitespace()));
        let token = bare.unwrap_or(text).trim();
        if token.is_empty() {
            return Err(OptionError::NoToken);
        }
        if !token.chars().all(|c| c.is_ascii_graphic()) {
            return Err(OptionError::BadToken);
        }
        Ok(Self(format!("Bot {token}")))
    }

    /// As requests carry it.
    pub(super) fn header(&self) -> &str {
        &self.0
    }

    /// As the gateway takes it.
    pub(super) fn bare(&self) -> &str {
        self.0.strip_prefix("Bot ").unwrap_or(&self.0)
    }
}

/// Where requests go.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Base {
    url: String,
    own: bool,
}

/// The platform's own address.
const PLATFORM: &str = "https://discord.com";

impl Base {
    /// Reads the address of another server that speaks the protocol; `None` is the platform. It
    /// may end in `/api` or `/api/v10`, which every request adds by itself.
    ///
    /// # Errors
    /// [`OptionError::BadBase`], or [`OptionError::Open`] for plain HTTP to another machine.
    pub fn read(text: Option<&str>) -> Result<Self, OptionError> {
        let Some(text) = text else {
            return Ok(Self {
                url: PLATFORM.to_owned(),
                own: false,
            });
        };
        let text = text.trim().trim_end_matches('/');
        let url = Url::parse(text).map_err(|_| OptionError::BadBase)?;
        match url.scheme() {
            "https" => {}
            "http" if is_loopback(&url) => {}
            "http" => return Err(OptionError::Open(text.to_owned(), "https://")),
            _ => return Err(OptionError::BadBase),
        }
        let version = format!("/v{}", limits::VERSION);
        let text = text.strip_suffix(version.as_str()).unwrap_or(text);
        let text = text.strip_suffix("/api").unwrap_or(text);
        Ok(Self {
            url: text.to_owned(),
            own: true,
        })
    }

    /// The address.
    pub fn as_str(&self) -> &str {
        &self.url
    }

    /// How many requests a second are spread over all routes: on the platform a little less than
    /// it allows; elsewhere whatever the server lets through.
    pub const fn spread(&self) -> Option<u32> {
        if self.own {
            None
        } else {
            Some(limits::REQUESTS_A_SECOND - 5)
        }
    }

    /// The address of a file that a member attached, if it is the platform's own or the set base's;
    /// an address that a message made up is not asked.
    pub fn admits_file(&self, address: &str) -> Option<Url> {
        let url = Url::parse(address).ok()?;
        let of_platform = url.scheme() == "https"
            && url
                .host_str()
                .is_some_and(|host| FILE_HOSTS.contains(&host));
        // A server of one's own may keep its files at another port.
        let of_base = Url::parse(&self.url).is_ok_and(|base| {
            self.own && base.scheme() == url.scheme() && base.host() == url.host()
        });
        (if self.own { of_base } else { of_platform }).then_some(url)
    }

    /// Whether the gateway at this address may be spoken to.
    ///
    /// # Errors
    /// [`OptionError::Open`] or [`OptionError::Elsewhere`].
    pub fn admits_gateway(&self, address: &str) -> Result<Url, OptionError> {
        let open = || OptionError::Open(address.to_owned(), "wss://");
        let url = Url::parse(address).map_err(|_| open())?;
        let near = is_loopback(&url);
        match url.scheme() {
            "wss" => {}
            "ws" if near => {}
            _ => return Err(open()),
        }
        let here = Url::parse(&self.url).is_ok_and(|base| is_loopback(&base));
        if here && !near {
            return Err(OptionError::Elsewhere(address.to_owned()));
        }
        Ok(url)
    }
}

/// Where the platform keeps files that members attach. *reference#signed-attachment-cdn-urls*.
const FILE_HOSTS: [&str; 2] = ["cdn.discordapp.com", "media.discordapp.net"];

fn is_loopback(url: &Url) -> bool {
    url.host_str().is_some_and(|host| {
        let host = host.trim_start_matches('[').trim_end_matches(']');
        host == "localhost" || host.parse::<IpAddr>().is_ok_and(|ip| ip.is_loopback())
    })
}

/// Which of the gateway connections of a community this process holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shards {
    /// The first.
    pub first: u32,
    /// The last, included.
    pub last: u32,
    /// How many there are in all processes.
    pub total: u32,
}

impl Shards {
    /// One process for all.
    pub const ONE: Self = Self {
        first: 0,
        last: 0,
        total: 1,
    };

    /// Reads `2/8` or `0-3/8`.
    ///
    /// # Errors
    /// [`OptionError::BadShards`].
    pub fn read(text: Option<&str>) -> Result<Self, OptionError> {
        let Some(text) = text else {
            return Ok(Self::ONE);
        };
        let read = || {
            let (range, total) = text.trim().split_once('/')?;
            let (first, last) = range.split_once('-').unwrap_or((range, range));
            let [first, last, total] = [first, last, total].map(|n| n.trim().parse().ok());
            Some(Self {
                first: first?,
                last: last?,
                total: total?,
            })
        };
        read()
            .filter(|shards| shards.first <= shards.last && shards.last < shards.total)
            .ok_or_else(|| OptionError::BadShards(text.to_owned()))
    }
}

/// Reads a list of channel ids.
///
/// # Errors
/// [`OptionError::BadChannel`].
pub fn channels(text: Option<&str>) -> Result<Vec<Id>, OptionError> {
    let parts = text.unwrap_or_default().split(',').map(str::trim);
    parts
        .filter(|part| !part.is_empty())
        .map(|part| {
            part.parse()
                .map_err(|_| OptionError::BadChannel(part.to_owned()))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_is_never_shown() {
        let token = Token::read(Some(" Bot abc.def ")).expect("a token");
        assert_eq!(format!("{token:?}"), "Token");
        assert_eq!((token.bare(), token.header()), ("abc.def", "Bot abc.def"));
        assert_eq!(
            Token::read(Some("Bot ")).expect_err("none"),
            OptionError::NoToken
        );
        assert_eq!(
            Token::read(Some("a b")).expect_err("bad"),
            OptionError::BadToken
        );
    }

    #[test]
    fn plain_connections_stay_on_this_machine() {
        for ok in [
            "http://127.0.0.1:1",
            "http://localhost:1",
            "http://[::1]:1",
            "https://x.example",
        ] {
            assert!(Base::read(Some(ok)).is_ok(), "{ok}");
        }
        for bad in [
            "http://x.example",
            "http://127.0.0.1.x.example",
            "ftp://127.0.0.1",
            "x",
        ] {
            assert!(Base::read(Some(bad)).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_base_may_end_in_its_version() {
        for text in [
            "http://[::1]:1",
            "http://[::1]:1/",
            "http://[::1]:1/api/v10/",
        ] {
            let base = Base::read(Some(text)).expect("a base");
            assert_eq!(base.as_str(), "http://[::1]:1", "{text}");
        }
    }

    #[test]
    fn the_gateway_must_be_encrypted_or_near_and_where_the_base_is() {
        let platform = Base::read(None).expect("the platform");
        let near = Base::read(Some("http://127.0.0.1:1")).expect("near");
        assert!(platform.admits_gateway("wss://gateway.discord.gg").is_ok());
        assert!(platform.admits_gateway("ws://gateway.discord.gg").is_err());
        assert!(platform.admits_gateway("ws://127.0.0.1:5").is_ok());
        assert!(near.admits_gateway("ws://localhost:5/x").is_ok());
        assert!(near.admits_gateway("wss://gateway.discord.gg").is_err());
    }

    #[test]
    fn files_are_fetched_from_the_platform_or_the_base_alone() {
        let platform = Base::read(None).expect("the platform");
        let near = Base::read(Some("http://127.0.0.1:1")).expect("near");
        let cdn = "https://cdn.discordapp.com/attachments/1/2/log.csv?ex=1";
        assert!(platform.admits_file(cdn).is_some() && near.admits_file(cdn).is_none());
        assert!(near.admits_file("http://127.0.0.1:1/log.csv").is_some());
        for other in [
            "http://cdn.discordapp.com/1",
            "https://cdn.discordapp.com.x.example/1",
            "https://discord.com/1",
            "http://127.0.0.1:1/log.csv",
            "file:///etc/hostname",
            "x",
        ] {
            assert!(platform.admits_file(other).is_none(), "{other}");
        }
        assert!(near.admits_file("http://127.0.0.1:2/log.csv").is_some());
        assert!(near.admits_file("http://127.0.0.2:1/log.csv").is_none());
    }

    #[test]
    fn shards_are_a_range_within_their_total() {
        assert_eq!(Shards::read(None), Ok(Shards::ONE));
        let shards = Shards::read(Some("2-3/8")).expect("shards");
        assert_eq!((shards.first, shards.last, shards.total), (2, 3, 8));
        for bad in ["3-2/8", "8/8", "x", "1", "0-0/0", "-1/3"] {
            assert!(Shards::read(Some(bad)).is_err(), "{bad}");
        }
    }
}
