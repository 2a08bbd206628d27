import 'reflect-metadata';
import { NestFactory } from '@nestjs/core';
import { GraphQLSchemaBuilderModule, GraphQLSchemaFactory } from '@nestjs/graphql';
import { lexicographicSortSchema, printSchema } from 'graphql';
import { buildSchemaOptions, resolvers } from './app.module.js';

// Prints the API's schema, without a database.
const app = await NestFactory.create(GraphQLSchemaBuilderModule, { logger: false });
await app.init();
const schema = await app.get(GraphQLSchemaFactory).create(resolvers, [], buildSchemaOptions);
process.stdout.write(`${printSchema(lexicographicSortSchema(schema))}\n`);
await app.close();
