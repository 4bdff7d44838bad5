//! How every connection to the platform is made, requests and gateway alike: what it says it is,
//! and how it is encrypted.

use std::sync::Arc;

use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::{ClientConfig, Error, RootCertStore};

/// What this program says it is: the platform turns away clients that name no address and version.
/// *reference#user-agent*.
pub const USER_AGENT: &str = concat!(
    "DiscordBot (",
    env!("CARGO_PKG_HOMEPAGE"),
    ", ",
    env!("CARGO_PKG_VERSION"),
    ")"
);

/// Encryption that trusts the authorities that browsers trust, without the machine's own list.
///
/// # Errors
/// When the library knows no protocol version, which would be a fault of the build.
pub fn tls() -> Result<ClientConfig, Error> {
    let roots = RootCertStore {
        roots: webpki_roots::TLS_SERVER_ROOTS.to_vec(),
    };
    let provider = Arc::new(ring::default_provider());
    Ok(ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()?
        .with_root_certificates(roots)
        .with_no_client_auth())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `DiscordBot ($url, $versionNumber)`. *reference#user-agent*.
    #[test]
    fn the_program_says_what_it_is_in_the_documented_form() {
        let inside = USER_AGENT.strip_prefix("DiscordBot (");
        let inside = inside.and_then(|rest| rest.strip_suffix(')'));
        let (url, version) = inside
            .and_then(|inside| inside.split_once(", "))
            .expect("two parts");
        assert!(url.starts_with("https://") && reqwest::Url::parse(url).is_ok());
        assert_eq!(version, env!("CARGO_PKG_VERSION"));
    }

    #[test]
    fn encryption_can_be_set_up_by_both_clients() {
        let config = tls().expect("a configuration");
        let client = reqwest::Client::builder().use_preconfigured_tls(config);
        assert!(client.build().is_ok());
    }
}
