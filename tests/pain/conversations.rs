//! Reports of pain in conversations of several turns, played through the pipe: `tests/data/pain/conversations.txt`
//! has them and says what each must come to.

#![expect(
    clippy::unwrap_used,
    reason = "a conversation that cannot be read must fail"
)]

use chalkbell::channel::pipe::run;
use chalkbell::config;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use serde_json::{Value, json};

const COACH: &str = "adair";

/// One team while its conversation is played.
struct Team {
    service: Service<Bot>,
    minute: u32,
    said: u32,
    /// Replies with buttons, the latest last: reply, button, label.
    buttons: Vec<(String, String, String)>,
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

impl Team {
    async fn new() -> Self {
        let store = Store::open("sqlite::memory:").await.unwrap();
        let mut team = Self {
            service: Service::new(store, Bot::new(config::built_in())),
            minute: 600,
            said: 0,
            buttons: Vec::new(),
        };
        // So that the bot knows a coach to tell.
        team.say(COACH, "winter", "/team").await;
        team
    }

    fn at(&self) -> String {
        let (days, minute) = (self.minute / 1440, self.minute % 1440);
        let (hour, minute) = (minute / 60, minute % 60);
        format!("2026-11-{:02}T{hour:02}:{minute:02}:00Z", 2 + days)
    }

    async fn send(&mut self, mut line: Value) -> Vec<Value> {
        line["team"] = json!("club");
        line["at"] = json!(self.at());
        let mut output = Vec::new();
        let input = format!("{line}\n");
        run(&self.service, input.as_bytes(), &mut output)
            .await
            .unwrap();
        let output = String::from_utf8(output).unwrap();
        let lines = output.lines().map(serde_json::from_str);
        let out: Vec<Value> = lines.collect::<Result<_, _>>().unwrap();
        for reply in &out {
            for button in reply["buttons"].as_array().into_iter().flatten() {
                let (id, label) = (text(button, "id"), text(button, "label"));
                let reply = text(reply, "id").to_owned();
                self.buttons.push((reply, id.to_owned(), label.to_owned()));
            }
        }
        out
    }

    async fn say(&mut self, who: &str, channel: &str, words: &str) -> Vec<Value> {
        self.said += 1;
        let line = json!({"type": "message", "id": format!("m{}", self.said), "channel": channel,
            "author": who, "name": who, "coach": who == COACH, "text": words});
        self.send(line).await
    }

    /// What a line of the conversation comes to.
    async fn play(&mut self, line: &str) -> Vec<Value> {
        self.minute += 1;
        let line = line.replace("\\n", "\n");
        if let Some(minutes) = line.strip_prefix('+') {
            self.minute += minutes.parse::<u32>().unwrap();
            return self.send(json!({"type": "clock"})).await;
        }
        if let Some(pressed) = line.strip_prefix("press ") {
            let (who, label) = pressed.split_once(' ').unwrap();
            let found = self.buttons.iter().rfind(|one| one.2.contains(label));
            let (reply, button, _) = found.unwrap().clone();
            let line = json!({"type": "press", "reply": reply, "author": who, "button": button});
            return self.send(line).await;
        }
        let (who, words) = line.split_once(": ").unwrap();
        if let Some(number) = who.strip_prefix("edit ") {
            // The first message is the coach's, who opened the team.
            let id = format!("m{}", 1 + number.parse::<u32>().unwrap());
            return self
                .send(json!({"type": "edit", "id": id, "text": words}))
                .await;
        }
        match who.strip_prefix("dm ") {
            Some(who) => self.say(who, &format!("to {who}"), words).await,
            None => self.say(who, "winter", words).await,
        }
    }

    /// Whether what came out is what `check` says.
    async fn holds(&mut self, out: &[Value], check: &str) -> bool {
        let is_reply = |one: &&Value| matches!(text(one, "type"), "reply" | "update");
        let to_coach = |one: &&Value| one["private"] == true && text(one, "to") == COACH;
        let texts: Vec<&str> = out
            .iter()
            .filter(is_reply)
            .map(|o| text(o, "text"))
            .collect();
        let told = out.iter().filter(to_coach).map(|one| text(one, "text"));
        let told: Vec<&str> = told.collect();
        let asked = texts.contains(&"Does something hurt?");
        let sign = !told.is_empty() && texts.iter().any(|t| t.contains("emergency number"))
            || told.iter().any(|text| text.contains("Warning sign"));
        let say = |all: &[&str], words: &str| {
            let words = words.to_lowercase();
            all.iter().any(|text| text.to_lowercase().contains(&words))
        };
        let (word, rest) = check.split_once(' ').unwrap_or((check, ""));
        match word {
            "sign" => sign,
            "pain" => !told.is_empty() && !sign,
            "reported" => !told.is_empty(),
            "heard" => !told.is_empty() || asked,
            "nothing" => told.is_empty() && !asked,
            "filed" => out
                .iter()
                .any(|one| matches!(text(one, "as"), "filed" | "corrected")),
            "has" => say(&texts, rest),
            "hasnt" => !say(&texts, rest),
            "coach" => say(&told, rest),
            // What a load is told with.
            "no" => !["again, rest", ", rest ", "expect "]
                .iter()
                .any(|part| say(&texts, part)),
            "stop" | "go" => {
                let (who, exercise) = rest.split_once(' ').unwrap();
                let out = self.say(who, "winter", &format!("/next {exercise}")).await;
                let advice = out.iter().find(|one| one["advice"].is_object());
                let stops = match advice {
                    Some(one) => text(&one["advice"], "decision") == "stop",
                    None => out.iter().any(|one| text(one, "text").contains("No loads")),
                };
                stops == (word == "stop") && !out.is_empty()
            }
            _ => panic!("no check: {check}"),
        }
    }
}

#[tokio::test]
async fn every_conversation_comes_to_what_it_says() {
    let all = include_str!("../data/pain/conversations.txt");
    let mut wrong = Vec::new();
    for conversation in all.split("## ").skip(1) {
        let mut lines = conversation.lines().filter(|line| !line.is_empty());
        let name = lines.next().unwrap();
        let (mut team, mut out) = (Team::new().await, Vec::new());
        for line in lines {
            let Some(checks) = line.strip_prefix("=> ") else {
                out = team.play(line).await;
                continue;
            };
            for check in checks.split("; ") {
                if !Box::pin(team.holds(&out, check)).await {
                    wrong.push(format!("{name}: {check}\n{out:?}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}
