## bot
