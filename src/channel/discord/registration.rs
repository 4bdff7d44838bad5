//! Registering the slash commands: all at once, and one that the platform refuses does not take the
//! others with it.

use std::time::Duration;

use reqwest::Method;
use serde_json::Value;
use serenity::model::id::ApplicationId;

use super::adapter::Adapter;
use super::commands;
use super::http::{Call, RestError, Route};
use super::wire::Id;
use crate::store::StoreError;

/// Registers the commands if they differ from those last registered.
pub async fn register(adapter: &Adapter, application: Id) {
    let commands = commands::registered();
    let digest = commands.to_string();
    match stored(adapter, application).await {
        Ok(before) if before.as_deref() == Some(digest.as_str()) => return,
        Ok(_) => {}
        // At worst the same commands are registered once more.
        Err(error) => tracing::debug!(%error, "which commands are registered is not known"),
    }
    let commands = commands.as_array().cloned().unwrap_or_default();
    match register_all(adapter, application, commands).await {
        Ok(refused) if refused.is_empty() => {
            tracing::info!("the slash commands are registered");
            if let Err(error) = store(adapter, application, &digest).await {
                tracing::warn!(%error, "it could not be stored which commands are registered");
            }
        }
        Ok(refused) => {
            for (name, error) in refused {
                tracing::warn!(
                    %error,
                    "the platform refuses the command /{name}, so it is not offered; the others are. \
                     The same words as a message that begins with `/{name}` are read, too. The next \
                     start tries again"
                );
            }
        }
        Err(error) => tracing::warn!(
            %error,
            "the slash commands could not be registered; commands can be typed as messages that \
             begin with `/`, and the next start tries again"
        ),
    }
}

/// Registers as many of the commands as are accepted; the names of the others, and why.
///
/// # Errors
/// [`RestError`] that no choice of commands helps against.
async fn register_all(
    adapter: &Adapter,
    application: Id,
    mut commands: Vec<Value>,
) -> Result<Vec<(String, RestError)>, RestError> {
    let mut refused = Vec::new();
    loop {
        let error = match put(adapter, application, &commands).await {
            Ok(()) => return Ok(refused),
            Err(error @ RestError::Refused { status: 400, .. }) => error,
            Err(error) => return Err(error),
        };
        let at = match first_named(&error, commands.len()) {
            Some(at) => at,
            None => first_refused(adapter, application, &commands).await?,
        };
        let command = commands.remove(at);
        let name = command["name"].as_str().unwrap_or_default().to_owned();
        refused.push((name, error));
        if commands.is_empty() {
            return Ok(refused);
        }
    }
}

/// The place of the first command that a refusal names: its fields begin with the place in the list.
fn first_named(error: &RestError, count: usize) -> Option<usize> {
    let RestError::Refused { fields, .. } = error else {
        return None;
    };
    let place = |path: &[String]| path.first()?.parse().ok().filter(|at| *at < count);
    fields.iter().find_map(|field| place(&field.path))
}

/// The place of the first command of a refused list that is refused: the length of the longest
/// beginning that is accepted, found by halves.
async fn first_refused(
    adapter: &Adapter,
    application: Id,
    commands: &[Value],
) -> Result<usize, RestError> {
    let (mut accepted, mut refused) = (0, commands.len());
    while refused - accepted > 1 {
        let middle = accepted + (refused - accepted) / 2;
        match put(adapter, application, &commands[..middle]).await {
            Ok(()) => accepted = middle,
            Err(RestError::Refused { status: 400, .. }) => refused = middle,
            Err(error) => return Err(error),
        }
    }
    Ok(accepted)
}

/// Registers exactly these.
/// *interactions/application-commands#bulk-overwrite-global-application-commands*.
async fn put(adapter: &Adapter, application: Id, commands: &[Value]) -> Result<(), RestError> {
    let application_id = ApplicationId::new(application.get());
    let list = Value::Array(commands.to_vec());
    let mut call = Call::new(Method::PUT, Route::Commands { application_id }).json(&list);
    // Nobody waits for it, and without it there are no commands until the next start.
    call.patience = Duration::from_secs(3600);
    adapter.rest.send(&call).await.map(|_| ())
}

async fn stored(adapter: &Adapter, application: Id) -> Result<Option<String>, StoreError> {
    let mut tx = adapter.store().begin().await?;
    let before = tx.registered(application.get()).await?;
    tx.rollback().await?;
    Ok(before)
}

async fn store(adapter: &Adapter, application: Id, digest: &str) -> Result<(), StoreError> {
    let mut tx = adapter.store().begin().await?;
    tx.put_registered(application.get(), digest).await?;
    tx.commit().await
}
