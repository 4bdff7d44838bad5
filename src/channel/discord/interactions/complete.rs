//! What could be typed, offered while it is typed.

use tokio::time::timeout;

use super::{AT_ONCE, Talk};
use crate::bot::text::slash::Takes;
use crate::channel::discord::commands::{self, fitting};
use crate::channel::discord::http::RestError;
use crate::channel::discord::limits;
use crate::channel::discord::outbound::{body, escape};
use crate::store::StoreError;

impl Talk<'_> {
    /// Where nothing fits, what was typed is offered as it is: short names and slips are read, too.
    /// (An empty list is no answer to a text by the platform's published description: it may as
    /// well be one to a number.)
    pub(super) async fn complete(&self) -> Result<(), RestError> {
        let Some((takes, typed)) = commands::typing(&self.interaction.data) else {
            return self.callback(&body::choices(&[])).await;
        };
        let found = timeout(AT_ONCE, self.completions(takes, &typed)).await;
        let mut found = found.ok().and_then(Result::ok).unwrap_or_default();
        if found.is_empty() {
            let typed = escape::cut(&typed, limits::CHOICE);
            found.push((typed.clone(), typed));
        }
        self.callback(&body::choices(&found)).await
    }

    async fn completions(
        &self,
        takes: Takes,
        typed: &str,
    ) -> Result<Vec<(String, String)>, StoreError> {
        let Some(speaker) = self.speaker().await else {
            return Ok(Vec::new());
        };
        let mut tx = self.adapter.store().begin().await?;
        let team = tx.team(&speaker.team).await?;
        let members = match takes {
            Takes::Member | Takes::MemberOrTeam => tx.members(&team).await?,
            _ => Vec::new(),
        };
        tx.rollback().await?;
        let reader = self.adapter.service.use_case().bot().reader_of(&team);
        let same = |name: &String| (name.clone(), name.clone());
        let names: Vec<(String, String)> = match takes {
            Takes::Exercise => reader
                .catalogue()
                .exercises()
                .map(|(_, e)| same(&e.name))
                .collect(),
            Takes::Muscle => reader
                .catalogue()
                .muscles()
                .map(|(_, m)| same(&m.name))
                .collect(),
            Takes::Member if members.is_empty() => vec![(speaker.name, speaker.user.to_string())],
            Takes::Member => members.into_iter().map(|m| (m.name, m.author)).collect(),
            Takes::MemberOrTeam => {
                let all = std::iter::once(same(&"team".to_owned()));
                all.chain(members.into_iter().map(|m| (m.name, m.author)))
                    .collect()
            }
            _ => Vec::new(),
        };
        Ok(fitting(names.into_iter(), typed))
    }
}
