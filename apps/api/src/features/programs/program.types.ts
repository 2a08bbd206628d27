import { Field, ID, Int, ObjectType } from '@nestjs/graphql';
import { type Role, roleSchema } from '@scutewright/commands';
import { enumType } from '../../graphql/input-from-zod.js';

const RoleEnum = enumType(roleSchema);

@ObjectType({ description: 'A person who can sign in' })
export class Account {
  @Field(() => ID) id: string;
  @Field(() => String) email: string;
  @Field(() => String) name: string;
  @Field(() => Boolean, { description: 'Whether a password was chosen yet' }) hasPassword: boolean;
}

@ObjectType({ description: 'One breeding group and all its records' })
export class Program {
  @Field(() => ID) id: string;
  @Field(() => String) name: string;
  @Field(() => Int, {
    description: 'Grows by one with every act; answers name the one they stand on',
  })
  revision: number;
  @Field(() => Boolean, { description: 'Invented records that ship with the software' })
  isDemo: boolean;
  @Field(() => RoleEnum, { description: 'What the viewer may do here' }) viewerRole: Role;
}

@ObjectType({ description: 'A program that the viewer is a member of' })
export class Membership {
  @Field(() => Program) program: Program;
  @Field(() => RoleEnum) role: Role;
}

@ObjectType({ description: 'Who is signed in' })
export class Viewer {
  @Field(() => Account) account: Account;
  @Field(() => [Membership]) memberships: Membership[];
}

@ObjectType({ description: 'A member of a program' })
export class Member {
  @Field(() => Account) account: Account;
  @Field(() => RoleEnum) role: Role;
  @Field(() => Date) since: Date;
}

@ObjectType({ description: 'A one-time link for one new member; shown once' })
export class Invitation {
  @Field(() => String) link: string;
  @Field(() => Date) expiresAt: Date;
  @Field(() => RoleEnum) role: Role;
}
